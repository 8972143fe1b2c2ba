// What stands on the screen where the page cannot be drawn: plain words, and two ways out. It uses nothing of
// what draws the page otherwise, since that is what failed.

import { say } from "./words.js";

export interface WayOut {
  label: string;
  run(): void;
}

/** Says that drawing failed, in the place of the page. */
export function fallen(ways: WayOut[]): void {
  const shell = document.createElement("main");
  shell.className = "fallen";
  shell.id = "fallen";
  const put = (tag: string, text: string) => {
    const element = document.createElement(tag);
    element.textContent = text;
    shell.append(element);
    return element;
  };
  put("h1", say("fallen-title"));
  put("p", say("fallen"));
  const row = put("div", "");
  row.className = "row";
  for (const { label, run } of ways) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "button";
    button.textContent = label;
    button.addEventListener("click", run);
    row.append(button);
  }
  document.getElementById("fallen")?.remove();
  document.getElementById("page")?.setAttribute("hidden", "");
  document.body.prepend(shell);
}
