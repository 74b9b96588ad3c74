/** When what has changed is drawn. */
import { options } from 'preact';

const TOUCHES = ['pointerdown', 'keydown', 'input', 'click'];

let draw;

function drawNow() {
  draw?.();
  draw = null;
}

/**
 * What came by itself is drawn in a moment of its own, so that a touch waits for neither; what a touch changed, at once.
 * Whatever is still to be drawn at the next touch is drawn before it, since that touch must find how things are by then.
 */
export function drawApart() {
  options.debounceRendering = (process) => {
    draw = process;
    // The event that is being handled, if any.
    if (window.event) queueMicrotask(drawNow);
    else setTimeout(drawNow);
  };
  for (const touch of TOUCHES) addEventListener(touch, drawNow, true);
}
