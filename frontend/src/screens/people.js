/** The screens of who holds the phone and who belongs to the cooperative: they come together. */
export { Enrol } from './enrol.jsx';
export { Shared } from './shared.jsx';
export { Who } from './who.jsx';
