/** What the person who holds this phone may do, her coin and her clock. */
import { money } from './format.js';
import { isAtLeast, me } from './people.js';

/** Whether she packs for others. */
export const packs = () => isAtLeast('packer');

/** @param {{id: any}} member */
export const isMe = (member) => member?.id === me.value?.member.id;

export const placeOf = () => ({ decimals: me.value.cooperative.currency_decimals, zone: me.value.cooperative.time_zone });

/** @param {number} minor */
export const coin = (minor) => money(minor, me.value.cooperative.currency, me.value.cooperative.currency_decimals);

/** Minor units as they are typed into a form. @param {number} minor */
export function typedCoin(minor) {
  const { decimals } = placeOf();
  const digits = String(minor).padStart(decimals + 1, '0');
  return decimals ? `${digits.slice(0, -decimals)}.${digits.slice(-decimals)}` : digits;
}
