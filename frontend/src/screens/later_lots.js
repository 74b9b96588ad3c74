/** The screens about lots and what waits to be sent, that come together when one of them is first opened. */
export { Lot } from './lot.jsx';
export { LotNew } from './lot_new.jsx';
export { Lots } from './lots.jsx';
export { Outbox } from './outbox.jsx';
export { UndoLine } from '../parts/undo_line.jsx';
