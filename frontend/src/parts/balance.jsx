/** Who owes whom, in words: never by a sign or a colour alone. */
import { isMe, coin } from '../who.js';
import { t } from '../words.js';
import { Coins } from './pictures.jsx';

/** @param {number} minor positive: the member owes */
const way = (minor) => (minor > 0 ? 'owes' : minor < 0 ? 'gets' : 'even');

/** @param {{member: {id: any, name: string}, minor: number}} props */
export const Balance = ({ member, minor }) => (
  <p class={`balance ${way(minor)}`}>
    <Coins />
    <span>
      <span class="balance-words">{t(`balance.${isMe(member) ? 'you' : 'she'}.${way(minor)}`, { name: member.name })}</span>
      {minor !== 0 && <strong class="balance-money">{coin(Math.abs(minor))}</strong>}
    </span>
  </p>
);

/** An amount with which way it goes. @param {{minor: number, seen: 'you' | 'she' | 'all'}} props who reads it */
export const Moved = ({ minor, seen }) => (
  <span class={`moved ${way(minor)}`}>
    <strong>{coin(Math.abs(minor))}</strong>
    <span class="moved-way">{t(`moved.${seen}.${way(minor)}`)}</span>
  </span>
);
