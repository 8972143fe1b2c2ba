// Line icons, drawn for this page on a 24 grid.

import { html, svg, type TemplateResult } from "lit/html.js";

const paths = {
  plus: "M12 5v14M5 12h14",
  minus: "M5 12h14",
  undo: "M9 6 4 11l5 5M4 11h10a6 6 0 0 1 0 12h-2",
  redo: "m15 6 5 5-5 5M20 11H10a6 6 0 0 0 0 12h2",
  share: "M12 15V3m0 0L7.5 7.5M12 3l4.5 4.5M5 12v8h14v-8",
  find: "M4 12h11m0 0-4.5-4.5M15 12l-4.5 4.5M20 4v16",
  lock: "M6 11h12v9H6zM8.5 11V8a3.5 3.5 0 0 1 7 0v3",
  more: "m7 10 5 5 5-5",
  close: "m6 6 12 12M18 6 6 18",
  good: "m5 12.5 4.5 4.5L19 7.5",
  doubtful: "M12 5v9m0 4v.5",
  bad: "m7 7 10 10M17 7 7 17",
  whipped: "M6 13h12l-1 8H7zM6 13c-1.500-3 1-5 3-4.500C9 5 12 3 13 6c2-1 4 1 3 3 2.500.500 3 2.500 2 4",
  pot: "M5 9h14v11H5zM4 5h16v4H4z",
  bar: "M4 10.500 7 7h10l3 3.500v6.500H4zM4 10.500h16",
  stick: "M8 12h8v9H8zM9 12V5l6-2v9M8 17h8",
  print: "M7 9V3h10v6M7 17H4V9h16v8h-3M7 14h10v7H7z",
  // The stations of the page.
  bench: "M6 4v6M18 4v6M12 4v6M3 10h18v4H3zM6 14v6M18 14v6",
  rework: "M5 7h9m0 0-3.500-3.500M14 7l-3.500 3.500M19 17h-9m0 0 3.500-3.500M10 17l3.500 3.500",
  make: "M4 11h14v5a4 4 0 0 1-4 4H8a4 4 0 0 1-4-4zM18 12h3M8 3v4M12 3v4M15 3v4",
  heat: "M10 14V5a2 2 0 0 1 4 0v9a4 4 0 1 1-4 0zM12 9v7",
  trouble: "M5 12a7 7 0 1 1 14 0a7 7 0 0 1-14 0M9.500 10a2.500 2.500 0 1 1 3 2.500c-.4.2-.5.5-.5 1m0 2v.5",
  notebook: "M6 3h12v18H6zM9 3v18M12.500 8h3M12.500 12h3",
  teach: "M4 4v16h16M7 15l4-4 3 2 5-7",
  caution: "M12 4 2.500 20h19zM12 10v5m0 2.500v.5",
} as const;

export type IconName = keyof typeof paths;

export function icon(name: IconName): TemplateResult {
  return html`<svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
    ${svg`<path d=${paths[name]} />`}
  </svg>`;
}
