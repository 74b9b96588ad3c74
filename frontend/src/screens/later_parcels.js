/** The screens about lots, parcels and money, that come together when one of them is first opened. */
export { Lot } from './lot.jsx';
export { LotNew } from './lot_new.jsx';
export { Lots } from './lots.jsx';
export { Outbox } from './outbox.jsx';
export { Parcel } from './parcel.jsx';
export { Parcels } from './parcels.jsx';
export { Statement } from './statement.jsx';
export { UndoLine } from '../parts/undo_line.jsx';
