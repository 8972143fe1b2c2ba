// A button that is held steps again and again; a finger that scrolls away stops it.

const FIRST = 500;
const NEXT = 90;

/** Makes every button marked `data-repeat` so. A held one is clicked: whatever stands there by then answers. */
export function repeatHeld(root: HTMLElement): void {
  let timer = 0;
  let repeated = false;
  const stop = () => clearTimeout(timer);
  root.addEventListener("pointerdown", (event) => {
    stop();
    repeated = false;
    const button = (event.target as Element).closest<HTMLButtonElement>("button[data-repeat]");
    if (!button || event.button !== 0) return;
    const again = (wait: number) => {
      timer = window.setTimeout(() => {
        repeated = true;
        button.click();
        again(NEXT);
      }, wait);
    };
    again(FIRST);
    button.addEventListener("pointerleave", stop, { once: true });
  });
  root.addEventListener("keydown", () => {
    repeated = false;
  });
  for (const end of ["pointerup", "pointercancel"]) root.addEventListener(end, stop);
  // The browser's own click after a long press is no further step.
  root.addEventListener(
    "click",
    (event) => {
      if (!event.isTrusted || !repeated) return;
      repeated = false;
      event.stopPropagation();
    },
    true,
  );
}
