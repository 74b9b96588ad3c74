/** The screens of whoever holds a phone about what is shared, owed and sold; no first visit brings them. */
export { Claim } from './claim.jsx';
export { ClaimNew } from './claim_new.jsx';
export { Claims } from './claims.jsx';
export { Parcel } from './parcel.jsx';
export { Parcels } from './parcels.jsx';
export { Quote } from './quote.jsx';
export { QuoteNew } from './quote_new.jsx';
export { Quotes } from './quotes.jsx';
export { Split } from './split.jsx';
export { Statement } from './statement.jsx';
export { Ways } from './ways.jsx';
