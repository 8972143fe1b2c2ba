// Asks for what the state asks for, and goes to where the answers will stand.

import type { Stations } from "../../stations.js";
import type { Search } from "./state.js";

export function findRework(search: Search, stations: Stations): void {
  const show = () => stations.go("rework", "reworks");
  void search.find().then(() => requestAnimationFrame(show));
  show();
}
