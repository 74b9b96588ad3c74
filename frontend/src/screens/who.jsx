/** Who holds this phone: choose, unlock, lock, sign out, take another person on. */
import { useEffect, useState } from 'preact/hooks';
import { recall } from '../answers.js';
import { canLock } from '../lock.js';
import { holders, isAtLeast, lock, looking, me, who } from '../people.js';
import { COOPERATIVES } from '../choices.js';
import { go } from '../router.jsx';
import { t } from '../words.js';
import { CalendarLink } from '../parts/calendar_link.jsx';
import { Heading } from '../parts/heading.jsx';
import { HolderLine, roleWords } from '../parts/holder_line.jsx';
import { NoLock } from '../parts/no_lock.jsx';
import { OwnPassword } from '../parts/own_password.jsx';
import { Coins, Lock, People } from '../parts/pictures.jsx';
import { SignOut } from '../parts/sign_out.jsx';
import { Unlock } from '../parts/unlock.jsx';
import '../style/people.css';

const Holding = () => (
  <section class="holding" aria-labelledby="holding">
    <h2 id="holding">{t('who.now', { name: me.value.member.name })}</h2>
    <p>{roleWords(me.value.member.role)} · {me.value.cooperative.name}</p>
    <button type="button" class="button first wide-button" onClick={lock}><Lock /> {t('who.lock')}</button>
    <p class="quiet">{t('who.idle')}</p>
    {isAtLeast('manager') && <a class="button wide-button" href="/members"><People /> {t('members.title')}</a>}
    {isAtLeast('manager') && <a class="button wide-button" href="/fares"><Coins /> {t('fares.title')}</a>}
  </section>
);

const Others = ({ others, onChoose }) => (
  <ul class="holders">
    {others.map((holder) => <HolderLine key={holder.id} holder={holder} onChoose={() => onChoose(holder.id)} />)}
  </ul>
);

/** Whether this phone has seen what visitors of the demonstration see. */
function useVisited() {
  const [visited, setVisited] = useState(false);
  useEffect(() => {
    if (!me.value) recall(COOPERATIVES).then(({ value }) => setVisited(Boolean(value?.results[0]?.is_demo)));
  }, []);
  return visited;
}

function look() {
  looking.value = true;
  go('/');
}

const More = ({ visited, here }) => (
  <section class="sewn more">
    {!me.value && visited && <button type="button" class="button" onClick={look}>{t('who.look')}</button>}
    <a class="button" href="/enrol">{t(holders.value.length ? 'who.another' : 'enrol.open')}</a>
    {!here && <a class="button" href="/">{t('departures.back')}</a>}
  </section>
);

/** @param {{here?: boolean}} props here: it stands in the place of a screen, which follows once somebody is unlocked */
export function Who({ here }) {
  const others = holders.value.filter((holder) => holder.id !== who.value);
  const [chosen, setChosen] = useState(others.length === 1 && !me.value ? others[0].id : null);
  const holder = others.find((one) => one.id === chosen);
  const visited = useVisited();
  return (
    <>
      <Heading words={t('who.title')} />
      {!canLock() && <NoLock />}
      {holder ? (
        <>
          <Unlock holder={holder} onOpen={() => here || go('/')} />
          {others.length + Boolean(me.value) > 1 && <button type="button" class="button" onClick={() => setChosen(null)}>{t('who.other')}</button>}
        </>
      ) : (
        <>
          {me.value && <Holding />}
          {others.length > 0 && <Others others={others} onChoose={setChosen} />}
          {!holders.value.length && <p>{t('who.none')}</p>}
        </>
      )}
      <More visited={visited} here={here} />
      {isAtLeast('manager') && !holder && <OwnPassword />}
      {me.value && !holder && <CalendarLink />}
      {me.value && !holder && <SignOut />}
    </>
  );
}
