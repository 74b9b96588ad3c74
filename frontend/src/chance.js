/** Chances in words, and what may be called safe. Never rounded up. */

/**
 * A chance as whole times in 20, or 99 in 100 where it is at least that. Nothing is ever certain.
 *
 * @param {number} chance 0…1
 * @returns {{times: number, of: number}}
 */
export function timesOf(chance) {
  if (chance >= 0.99) return { times: 99, of: 100 };
  let times = 0;
  while ((times + 1) / 20 <= chance) times += 1;
  return { times, of: 20 };
}

/** @typedef {{safe: boolean, chance_hard: number}} Slot */

const USUAL_CONFIDENCE = 0.95;

/** The chance from which the cooperative calls a departure safe, as an answer echoes it. */
export const confidenceOf = (answer) => answer.question?.confidence ?? USUAL_CONFIDENCE;

/** Safe only if the server says so and its chance reaches what was asked. @param {Slot} slot @param {number} confidence */
export const isSafe = (slot, confidence) => slot.safe && slot.chance_hard >= confidence;

/** What cannot be priced is never the cheapest. */
const price = (slot) => slot.cost_per_kg_minor ?? Infinity;
const dearer = (a, b) => (price(a) === price(b) ? 0 : price(a) - price(b));

/** The cheapest safe one; of equals the one with more hours to spare. */
export function cheapestSafe(slots, confidence) {
  const safe = slots.filter((slot) => isSafe(slot, confidence) && slot.cost_per_kg_minor !== null);
  return safe.sort((a, b) => dearer(a, b) || b.margin_h - a.margin_h)[0] ?? null;
}

/** Cartons of one vehicle on one day, the one to take first: the cheapest safe one, else the likeliest. */
function order(slots, confidence) {
  const first = cheapestSafe(slots, confidence);
  return [...slots].sort((a, b) => (b === first) - (a === first) || b.chance_hard - a.chance_hard);
}

/**
 * Slots of one vehicle and hour together, since they differ by their carton only.
 *
 * @returns {{lead: any, others: any[], safe: boolean}[]}
 */
export function byVehicle(slots, confidence) {
  const groups = new Map();
  for (const slot of slots) {
    const key = `${slot.departs_at} ${slot.carrier.id} ${slot.route.slug}`;
    groups.set(key, [...(groups.get(key) ?? []), slot]);
  }
  return [...groups.values()].map((group) => {
    const [lead, ...others] = order(group, confidence);
    return { lead, others, safe: isSafe(lead, confidence) };
  });
}

/** What the filters leave, in the order chosen. @param {'earliest' | 'cheapest'} sorting */
export function arrange(slots, { confidence, onlySafe, sorting }) {
  const wanted = onlySafe ? slots.filter((slot) => isSafe(slot, confidence)) : slots;
  const groups = byVehicle(wanted, confidence);
  const hour = (group) => Date.parse(group.lead.departs_at);
  const earliest = (a, b) => hour(a) - hour(b);
  const cheapest = (a, b) => b.safe - a.safe || dearer(a.lead, b.lead) || earliest(a, b);
  return groups.sort(sorting === 'cheapest' ? cheapest : earliest);
}
