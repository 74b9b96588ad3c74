/** Patterns that tell people apart without colour, on the screen and on paper. */

/** Width, height, drawing, width of the stroke. Neighbours in the list differ most. */
const DRAWN = [
  [8, 8, 'M-2 2 2-2M0 8 8 0M6 10l4-4', 1.6],
  [9, 9, 'M4.5 4.5h.01', 4.6],
  [8, 7, 'M0 3.5h8', 2],
  [13, 13, 'M3 6.5h7M6.5 3v7', 2],
  [16, 9, 'M0 4.5q4-6 8 0t8 0', 1.6],
  [7, 8, 'M3.5 0v8', 2],
  [14, 14, 'M7 3.2a3.8 3.8 0 1 0 .01 0', 1.6],
  [10, 10, 'M-2.5 7.5l5 5M0 0l10 10M7.5-2.5l5 5', 3.4],
  [12, 10, 'M0 8 6 2l6 6', 1.8],
  [10, 10, 'M0 0l10 10M10 0 0 10', 1.3],
  [16, 10, 'M0 0h16M0 5h16M4 0v5M12 5v5', 1.3],
  [12, 12, 'M2.5 2.5h7v7h-7z', 1.8],
];

export const PATTERNS = DRAWN.length;

/** All of them once on a page; pictures and lists point at them. */
export const Patterns = () => (
  <svg class="patterns" width="0" height="0" aria-hidden="true" focusable="false">
    <defs>
      {DRAWN.map(([width, height, path, stroke], index) => (
        <pattern id={`part-${index}`} width={width} height={height} patternUnits="userSpaceOnUse">
          <path class="part-lines" d={path} stroke-width={stroke} />
        </pattern>
      ))}
    </defs>
  </svg>
);

/** Each member's pattern: the same in every carton of a parcel. @returns {Map<any, number>} */
export function patternsOf(cartons) {
  const members = new Map(cartons.flatMap((carton) => carton.parts).map(({ member }) => [member.id, member.name]));
  const inOrder = [...members].sort(([, a], [, b]) => (a < b ? -1 : 1));
  return new Map(inOrder.map(([id], index) => [id, index % PATTERNS]));
}

/** @param {{pattern: number}} props */
export const Swatch = ({ pattern }) => (
  <svg class="part-swatch" viewBox="0 0 36 24" aria-hidden="true" focusable="false">
    <rect class="part" x="1" y="1" width="34" height="22" />
    <rect x="1" y="1" width="34" height="22" fill={`url(#part-${pattern})`} />
  </svg>
);
