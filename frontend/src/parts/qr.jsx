/** A code for a camera, drawn from the path that the server gives; the white that a camera needs around it is in its size. */

/** @param {{qr: {size: number, path: string}, words: string}} props */
export const Qr = ({ qr, words }) => (
  <svg class="qr" viewBox={`0 0 ${qr.size} ${qr.size}`} role="img" aria-label={words} shape-rendering="crispEdges">
    <path class="qr-light" d={`M0 0h${qr.size}v${qr.size}h-${qr.size}z`} />
    <path class="qr-dark" d={qr.path} />
  </svg>
);
