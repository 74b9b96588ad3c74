/** How the carton warms on its way: the only place that draws curves. */
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { percent } from '../format.js';
import { t } from '../words.js';
import { Before, Behind, LABEL_ROWS, ROW } from './curve_marks.jsx';
import { LINES, lastHour, marksOf, pathOf, softPlot, temperaturePlot, ticksOf } from './curve_plots.js';
import { CurveTable } from './curve_table.jsx';

/** Letters of the picture against those of the page. */
const SMALL = 0.8125;
const BESIDE = 3.4;
const UNDER = 2.7;

/** Pixels of a plot. @returns {import('./curve_marks.jsx').Frame} */
function frameOf({ range: [low, high], height, labelled }, last, width, em) {
  const [left, right] = [BESIDE * em, width - 0.6 * em];
  const top = (labelled ? LABEL_ROWS * ROW : 0.6) * em;
  const bottom = height * em - UNDER * em;
  return {
    left, right, top, bottom, em, last,
    x: (hour) => left + ((right - left) * hour) / last,
    y: (value) => bottom - ((bottom - top) * (value - low)) / (high - low),
  };
}

const Upwards = ({ plot, frame }) =>
  plot.steps.map((step) => (
    <>
      <path d={`M${frame.left} ${frame.y(step)}H${frame.right}`} class="curve-rule" />
      <text x={frame.left - frame.em * 0.4} y={frame.y(step) + frame.em * 0.35} text-anchor="end">{plot.shown(step)}</text>
    </>
  ));

const Along = ({ ticks, frame }) =>
  ticks.map(({ at, hour, day }) => (
    <>
      <path d={`M${frame.x(at)} ${frame.bottom}v${frame.em * 0.35}`} class="curve-rule" />
      <text x={frame.x(at)} y={frame.bottom + frame.em * 1.35} text-anchor="middle">{hour}</text>
      {day && <text x={frame.x(at)} y={frame.bottom + frame.em * 2.5} text-anchor="middle" class="curve-word">{day}</text>}
    </>
  ));

/** A plot at a width in pixels, with letters of a height in pixels. */
export function Picture({ slot, plot, width, em }) {
  const id = useId();
  const frame = frameOf(plot, lastHour(slot), width, em);
  const { hours } = slot.curve;
  return (
    <svg width={width} height={plot.height * em} font-size={em}>
      <clipPath id={`${id}-edge`}><rect x={frame.left} y={frame.top} width={frame.right - frame.left} height={frame.bottom - frame.top} /></clipPath>
      <Behind curve={slot.curve} frame={frame} id={`${id}-hatch`} />
      <Upwards plot={plot} frame={frame} />
      <Along ticks={ticksOf(slot, width / em)} frame={frame} />
      <g clip-path={`url(#${id}-edge)`}>
        {plot.lines.map((line) => (
          <path d={pathOf(hours, line.values, frame.x, frame.y)} class={`curve-line line-${line.name}${line.thin ? ' thin' : ''}`} stroke-dasharray={line.dash} />
        ))}
      </g>
      <Before marks={marksOf(slot)} level={plot.level} frame={frame} labelled={plot.labelled} />
    </svg>
  );
}

/** Follows the width of the page and the size of its letters. */
function useSize(box) {
  const [size, setSize] = useState(null);
  useEffect(() => {
    const place = box.current;
    const em = parseFloat(getComputedStyle(place).fontSize) * SMALL;
    // A place that leaves the page is measured once more, with no width.
    const measure = () => place.clientWidth && setSize({ width: place.clientWidth, em });
    const watcher = new ResizeObserver(measure);
    watcher.observe(place);
    return () => watcher.disconnect();
  }, []);
  return size;
}

function Plot({ slot, plot }) {
  const box = useRef(null);
  const size = useSize(box);
  return <div class="plot" ref={box} aria-hidden="true">{size && <Picture slot={slot} plot={plot} {...size} />}</div>;
}

const Sample = ({ line }) => (
  <svg class="sample" viewBox="0 0 40 10" aria-hidden="true">
    <path d="M1 5h38" class={`line-${line.name}`} stroke-dasharray={line.dash} />
  </svg>
);

const Legend = () => (
  <ul class="legend">
    {LINES.map((line) => <li><Sample line={line} /> {t(`curve.${line.name}`)}</li>)}
    <li>{t('curve.thin')}</li>
  </ul>
);

const limitOf = (slot) => slot.curve.limits.find((one) => one.chosen) ?? slot.curve.limits[0];

export function Curve({ slot }) {
  const limit = limitOf(slot);
  return (
    <section class="sewn" aria-labelledby="curve">
      <h2 id="curve">{t('curve.title')}</h2>
      <Legend />
      <h3 class="plot-title">{t('curve.temperature')}</h3>
      <Plot slot={slot} plot={temperaturePlot(slot)} />
      <h3 class="plot-title">
        {limit.kind === 'softened_share' ? t('curve.softened.limit', { share: percent(limit.value) }) : t('curve.softened')}
      </h3>
      <Plot slot={slot} plot={softPlot(slot)} />
      <p class="quiet">{t('curve.night')}</p>
      <CurveTable slot={slot} until={lastHour(slot)} />
    </section>
  );
}
