// What keys do to a slider.

/** Further than any slider goes; each stops at its own ends. */
const BEYOND = 1000;

/** By how much a key moves a slider whose arrows move it so far; `undefined` for a key that does not. */
export function keyStep({ key }: KeyboardEvent, arrow = 1): number | undefined {
  const steps: Record<string, number> = {
    ArrowLeft: -arrow,
    ArrowDown: -arrow,
    ArrowRight: arrow,
    ArrowUp: arrow,
    PageDown: -5,
    PageUp: 5,
    Home: -BEYOND,
    End: BEYOND,
  };
  return Object.hasOwn(steps, key) ? steps[key] : undefined;
}
