/** What a question can be made of: routes, species, buyers and cartons of this cooperative. */
import { computed } from '@preact/signals';
import { answerTo, bring, recall } from './answers.js';
import { language } from './words.js';

export const COOPERATIVES = '/api/v1/cooperatives/?page_size=100';

const PATHS = {
  cooperatives: COOPERATIVES,
  routes: '/api/v1/routes/?page_size=100',
  species: '/api/v1/species/?page_size=100',
  buyers: '/api/v1/buyers/?page_size=100',
  designs: '/api/v1/carton-designs/?page_size=100',
};

/** @typedef {{cooperative: any, routes: any[], species: any[], buyers: any[], designs: any[], buyersOn: (route: string) => any[]}} Choices */

const rows = (name) => answerTo(PATHS[name]).value.value?.results;

/** @type {import('@preact/signals').ReadonlySignal<Choices | null>} null until all of them are here */
export const choices = computed(() => {
  const found = Object.fromEntries(Object.keys(PATHS).map((name) => [name, rows(name)]));
  if (Object.values(found).some((list) => !list)) return null;
  const { cooperatives, routes, species, buyers, designs } = found;
  const buyersOn = (slug) => buyersAt(buyers, routes.find((route) => route.slug === slug));
  return { cooperative: cooperatives[0], routes, species, buyers, designs, buyersOn };
});

/** Why the choices are not here, once that is known. */
export const choicesProblem = computed(
  () => Object.values(PATHS).map((path) => answerTo(path).value).find((one) => !one.value && one.problem)?.problem,
);

const each = (act) => Promise.all(Object.values(PATHS).map(act));

export const bringChoices = () => each(bring);

/** As far as the phone has them. */
export const recallChoices = () => each(recall);

/** A place comes as its code, or whole. */
const placeCode = (place) => place?.code ?? place;

function buyersAt(buyers, route) {
  const there = buyers.filter((buyer) => placeCode(buyer.place) === placeCode(route?.destination));
  return there.length ? there : buyers;
}

/** The name of a species in the language of the screen. */
export const speciesName = (one) => one?.[`name_${language.value}`] || one?.name_en || one?.code || '';
