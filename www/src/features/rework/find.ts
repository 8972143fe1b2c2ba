// Asks for what the state asks for, and goes to where the answers will stand.

import type { Search } from "./state.js";

export function findRework(search: Search): void {
  const place = document.querySelector<HTMLElement>("#reworks");
  const show = () => place?.scrollIntoView({ block: "start" });
  void search.find().then(() => requestAnimationFrame(show));
  show();
  place?.focus({ preventScroll: true });
}
