/** Printing on the paper that there is. */

/** @param {'a4' | 'roll'} paper */
export function printOn(paper) {
  document.documentElement.dataset.paper = paper;
  print();
}
