/** One person of this phone, to be chosen. */
import { counts } from '../waiting.js';
import { t } from '../words.js';
import { Person } from './pictures.jsx';

/** @param {string} role */
export const roleWords = (role) => t(`role.${role}`);

export const HolderLine = ({ holder, onChoose }) => (
  <li>
    <button type="button" class="holder" onClick={onChoose}>
      <Person />
      <span>
        <strong>{holder.name}</strong>
        <span>{[roleWords(holder.role), holder.cooperative].filter(Boolean).join(' · ')}</span>
        {counts.value[holder.id] > 0 && <span>{t('outbox.hers', { count: counts.value[holder.id] })}</span>}
        {holder.out && <span>{t('out.title')}</span>}
      </span>
    </button>
  </li>
);
