/** How the carton warms on its way: the only place that draws curves. */
import { useEffect, useRef } from 'preact/hooks';
import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { percent } from '../format.js';
import { t } from '../words.js';
import { behind, before } from './curve_marks.js';
import { lastHour, LINES, softPlot, temperaturePlot } from './curve_plots.js';
import { CurveTable } from './curve_table.jsx';

/** Colours as the style sheet has them now, light or dark. */
function inks() {
  const style = getComputedStyle(document.documentElement);
  const ink = (name) => style.getPropertyValue(`--${name}`).trim();
  return { ink: ink('ink'), quiet: ink('quiet'), rule: ink('rule'), paper: ink('paper'), night: ink('night'), frost: ink('frost-line'), thaw: ink('thaw-line'), board: ink('board') };
}

/** Draws into `box` and follows its width and the colour scheme. */
function keepDrawn(box, slot, plotOf) {
  let plot;
  const draw = () => {
    plot?.destroy();
    const colours = inks();
    const { options, data } = plotOf(slot, colours, box.clientWidth);
    options.hooks = { drawClear: [behind(slot, colours)], draw: [before(slot, colours, options.labelled)] };
    plot = new uPlot(options, data, box);
  };
  const scheme = matchMedia('(prefers-color-scheme: dark)');
  const watcher = new ResizeObserver(draw);
  watcher.observe(box);
  scheme.addEventListener('change', draw);
  return () => {
    watcher.disconnect();
    scheme.removeEventListener('change', draw);
    plot?.destroy();
  };
}

function Plot({ slot, plotOf }) {
  const box = useRef(null);
  useEffect(() => keepDrawn(box.current, slot, plotOf), [slot]);
  return <div class="plot" ref={box} aria-hidden="true" />;
}

const Sample = ({ line }) => (
  <svg class="sample" viewBox="0 0 40 10" aria-hidden="true">
    <path d="M1 5h38" class={`line-${line.name}`} stroke-dasharray={line.dash.join(' ')} />
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
      <Plot slot={slot} plotOf={temperaturePlot} />
      <h3 class="plot-title">
        {limit.kind === 'softened_share' ? t('curve.softened.limit', { share: percent(limit.value) }) : t('curve.softened')}
      </h3>
      <Plot slot={slot} plotOf={softPlot} />
      <p class="quiet">{t('curve.night')}</p>
      <CurveTable slot={slot} until={lastHour(slot)} />
    </section>
  );
}
