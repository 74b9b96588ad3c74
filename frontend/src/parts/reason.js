/** Why a slot is not safe, and what would help, in the language of the screen. */
import { dayAndHour, degrees, hoursDown, hoursUp } from '../format.js';
import { hasWords, t } from '../words.js';

const near = (shown, figure) => (figure === null || figure === undefined ? null : shown(figure));

/** Figures that a sentence may need; null where the server has none. */
function figures(slot, start) {
  const given = slot.reason?.values ?? {};
  return {
    hold: near(hoursDown, slot.hold_cautious_h),
    needed: near(hoursUp, given.needed_h),
    arrives: near(dayAndHour, slot.arrives_until),
    departs: dayAndHour(slot.departs_at),
    close: near(dayAndHour, slot.close_no_earlier_than),
    latest: near(dayAndHour, slot.latest_safe_departure_at),
    start: degrees(start),
  };
}

const WANTED = {
  hold_too_short: ['hold', 'needed'],
  'hold_too_short.often': ['hold'],
  'hold_too_short.days': ['hold'],
  arrives_after_deadline: ['arrives'],
  closed_too_early: ['close'],
  buyer_closed: ['arrives'],
  start_too_warm: ['start'],
  may_leave_late: ['latest'],
  misses_departure: ['departs'],
};

/** Of the three sentences about a short hold, the one that its figures bear. */
function sentenceOf({ code, values = {} }, hold) {
  if (code !== 'hold_too_short') return code;
  if (values.needed_h === null) return `${code}.days`;
  return values.needed_h <= hold ? `${code}.often` : code;
}

/**
 * @param {any} slot
 * @param {number} start °C of the fish when the carton is closed
 * @returns {{words: string, help: string, ours: boolean}} `ours` is false where only the server has words for it
 */
export function reasonOf(slot, start) {
  const sentence = slot.reason && sentenceOf(slot.reason, slot.hold_cautious_h);
  const given = figures(slot, start);
  const ours = WANTED[sentence]?.every((name) => given[name] !== null) ?? false;
  const help = `help.${slot.reason?.code}`;
  return {
    words: ours ? t(`reason.${sentence}`, given) : slot.reason?.words ?? t('reason.chance'),
    help: hasWords(help) ? t(help) : t('help.any'),
    ours: ours || !slot.reason,
  };
}
