/** A secret address for her own calendar: told once, and withdrawn whenever she likes. */
import { useEffect, useState } from 'preact/hooks';
import { who } from '../people.js';
import { readSetting, writeSetting } from '../store.js';
import { delivered } from '../waiting.js';
import { t } from '../words.js';
import { Act } from './act.jsx';

/** The phone remembers which address she made, never the address itself. */
const place = () => `${who.value}/calendar`;

export function CalendarLink() {
  const [link, setLink] = useState(null);
  useEffect(() => {
    readSetting(place()).then((id) => setLink((before) => (id && before?.id === id ? before : id && { id })));
  }, [delivered.value]);
  const keep = async (made) => {
    await writeSetting(place(), made?.id ?? null);
    setLink(made);
  };
  return (
    <details class="sewn">
      <summary>{t('calendar.title')}</summary>
      <p>{t('calendar.note')}</p>
      {link?.address && (
        <div class="code-card" role="status">
          <p class="link-text">{link.address}</p>
          <p><strong>{t('calendar.once')}</strong></p>
        </div>
      )}
      {link ? (
        <Act path={`/api/v1/calendar-links/${link.id}/revoke/`} words={t('calendar.revoke')} second undoable forgets={place()} done={() => keep(null)} />
      ) : (
        <Act path="/api/v1/calendar-links/" words={t('calendar.make')} second done={keep} />
      )}
    </details>
  );
}
