/** The screens of whoever sells, packs or manages; no first visit brings them. */
export { FareChange } from './fare_change.jsx';
export { FareHistory } from './fare_history.jsx';
export { Fares } from './fares.jsx';
export { Imports } from './imports.jsx';
export { Quote } from './quote.jsx';
export { QuoteNew } from './quote_new.jsx';
export { Quotes } from './quotes.jsx';
