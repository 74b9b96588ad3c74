/** What the driver carries: what he takes, to whom, not later than when, and who signed. */
import { dayAndHour, hourOfDay, kilograms, longDay, plain } from '../format.js';
import { t } from '../words.js';
import { Fact } from './fact.jsx';
import { fishName } from './lot_line.jsx';
import { Care } from './pictures.jsx';

/** Not known yet: a line for the pen. */
const BY_HAND = '__________';

const Carton = ({ carton }) => (
  <tr>
    <th scope="row">{carton.position}</th>
    <td>{carton.species.map(fishName).join(', ')}</td>
    <td class="figure">{kilograms(carton.mass_kg)}</td>
    <td class="figure">{carton.gross_mass_kg === null ? '' : kilograms(carton.gross_mass_kg)}</td>
  </tr>
);

const Cartons = ({ bill }) => (
  <table>
    <thead>
      <tr>
        <th scope="col">{t('list.label')}</th>
        <th scope="col">{t('waybill.fish')}</th>
        <th scope="col" class="figure">{t('waybill.net')}</th>
        <th scope="col" class="figure">{t('waybill.gross')}</th>
      </tr>
    </thead>
    <tbody>{bill.cartons.map((carton) => <Carton carton={carton} />)}</tbody>
    <tfoot>
      <tr>
        <th scope="row">{plain(bill.cartons_count)}</th>
        <td>{t('waybill.all')}</td>
        <td class="figure">{kilograms(bill.mass_kg)}</td>
        <td class="figure">{bill.gross_mass_kg === null ? '' : kilograms(bill.gross_mass_kg)}</td>
      </tr>
    </tfoot>
  </table>
);

/** Lines to be written on by hand. */
const Sign = ({ who }) => (
  <div class="sign">
    <span class="sign-who">{t(who)}</span>
    <span class="sign-line">{t('waybill.name')}</span>
    <span class="sign-line">{t('waybill.hour')}</span>
  </div>
);

/** @param {{papers: any}} props */
export const Waybill = ({ papers: { waybill } }) => (
  <section class="printed" aria-labelledby="waybill">
    <h2 id="waybill">{t('papers.waybill')}</h2>
    <p>{waybill.cooperative}</p>
    {waybill.state === 'open' && <p class="notice"><Care /> <span>{t('papers.open')}</span></p>}
    {waybill.latest_safe_departure_at && (
      <p class="paper-hour">{t('waybill.latest')} <strong>{dayAndHour(waybill.latest_safe_departure_at)}</strong></p>
    )}
    <dl>
      <Fact name="waybill.leaves">{longDay(waybill.departs_at)}, {hourOfDay(waybill.departs_at)}</Fact>
      <Fact name="waybill.way">{waybill.route.name}</Fact>
      <Fact name="waybill.carrier">{waybill.carrier.name}</Fact>
      <Fact name="waybill.driver">{waybill.driver || BY_HAND} {waybill.plate || BY_HAND}</Fact>
      <Fact name="waybill.buyer">{waybill.buyer.name}, {waybill.buyer.place}</Fact>
    </dl>
    <Cartons bill={waybill} />
    <p><strong>{t('waybill.care')}</strong></p>
    <Sign who="waybill.gives" />
    <Sign who="waybill.carries" />
    <Sign who="waybill.takes" />
    <p>{t('waybill.state')}</p>
  </section>
);
