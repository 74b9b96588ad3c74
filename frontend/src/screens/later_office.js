/** The screens of whoever packs or manages; no first visit brings them. */
export { FareChange } from './fare_change.jsx';
export { FareHistory } from './fare_history.jsx';
export { Fares } from './fares.jsx';
export { Imports } from './imports.jsx';
export { Members } from './members.jsx';
export { Papers } from './papers.jsx';
export { ParcelNew } from './parcel_new.jsx';
export { ParcelStep } from './parcel_step.jsx';
export { PaymentNew } from './payment_new.jsx';
export { Phones } from './phones.jsx';
export { Plan } from './plan.jsx';
export { PlanNew } from './plan_new.jsx';
export { Statements } from './statements.jsx';
