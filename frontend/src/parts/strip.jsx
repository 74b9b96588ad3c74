/** The road as a rope with a knot at each place: hours, heat, what the carton stands in. */
import { altitude, dayAndHour, degrees, kilometres } from '../format.js';
import { t } from '../words.js';
import { Ride } from './pictures.jsx';

const Hours = ({ stop }) => (
  <span class="strip-hours">
    {stop.arrives_at && <span>{t('strip.arrives', { hour: dayAndHour(stop.arrives_at) })}</span>}
    {stop.leaves_at && <span>{t('strip.leaves', { hour: dayAndHour(stop.leaves_at) })}</span>}
  </span>
);

const Stop = ({ stop }) => (
  <li>
    <div class="strip-top">
      <h3>{stop.place}</h3>
      {stop.air_c !== null && <span class="figure big">{degrees(stop.air_c, 0)}</span>}
    </div>
    <Hours stop={stop} />
    <span class="quiet">{t('strip.way', { km: kilometres(stop.km), altitude: altitude(stop.altitude_m) })}</span>
    {stop.carries && <span class="strip-ride"><Ride where={stop.carries} /> {t(`carries.${stop.carries}`)}</span>}
  </li>
);

export const Strip = ({ stops }) => (
  <section class="sewn" aria-labelledby="strip">
    <h2 id="strip">{t('strip.title')}</h2>
    <p class="quiet">{t('strip.note')}</p>
    <ol class="strip">{stops.map((stop) => <Stop key={stop.place + stop.km} stop={stop} />)}</ol>
  </section>
);
