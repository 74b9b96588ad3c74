/** The screens that come together when one of them is first opened: one small file instead of four. */
export { Journey } from './journey.jsx';
export { Kept } from './kept.jsx';
export { Packing } from './packing.jsx';
