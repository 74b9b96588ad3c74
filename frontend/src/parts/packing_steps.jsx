/** How to pack, in order, each step with its picture and its figures. */
import { centimetres, degrees, kilograms, tape } from '../format.js';
import { t } from '../words.js';
import { Bag, Carton, Freezer, HardFish, Label, Rope, Shavings, Thermometer } from './pictures.jsx';

const FIXED = new Set(['eps', 'polyurethane', 'cork']);

/** @typedef {[() => any, string, Record<string, any>]} Step picture, key of the words, their values */

/** A box that has its walls already: only what the fish leaves free is filled. @returns {Step[]} */
const intoBox = ({ fill_above_m: fill }) => [
  [HardFish, 'lay', {}],
  ...(fill > 0 ? [[Shavings, 'top.fixed', { thickness: tape(fill) }]] : []),
  [Rope, 'lid', {}],
];

/** A carton whose walls are made while it is packed. @returns {Step[]} */
function intoCarton({ faces_m: faces, fill_above_m: fill, insulation }) {
  const kind = insulation.material === 'shavings' ? 'shavings' : 'other';
  return [
    [HardFish, 'middle', { side: centimetres(faces.left), front: centimetres(faces.front) }],
    [Shavings, `sides.${kind}`, { density: kilograms(insulation.density_kg_m3) }],
    [Shavings, fill > 0 ? `top.fill.${kind}` : `top.${kind}`, { thickness: tape(faces.top + fill) }],
    [Rope, 'tie', {}],
  ];
}

/** @returns {Step[]} */
function bottom({ faces_m: faces, insulation }) {
  const kind = insulation.material === 'shavings' ? 'shavings' : 'other';
  return [[Shavings, `bottom.${kind}`, { thickness: centimetres(faces.bottom) }]];
}

/** Without an hour that is safe nothing is written on the carton. @returns {Step[]} */
function stepsOf(packing, { start, hour }) {
  const fixed = FIXED.has(packing.insulation.material);
  return [
    [Freezer, 'hard', { start: degrees(start) }],
    [Carton, 'line', {}],
    ...(fixed ? [] : bottom(packing)),
    [Bag, 'bag', { mass: kilograms(packing.mass_in_one_kg) }],
    ...(fixed ? intoBox(packing) : intoCarton(packing)),
    ...(hour ? [[Label, 'label', { hour }]] : []),
    [Thermometer, 'leave', {}],
  ];
}

export const Steps = ({ packing, start, hour }) => (
  <section class="sewn" aria-labelledby="steps">
    <h2 id="steps">{t('steps.title')}</h2>
    <ol class="steps">
      {stepsOf(packing, { start, hour }).map(([Drawn, key, values]) => (
        <li>
          <Drawn />
          <span>{t(`step.${key}`, values)}</span>
        </li>
      ))}
    </ol>
  </section>
);
