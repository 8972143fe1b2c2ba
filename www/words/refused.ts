// What TypeScript must refuse: each line here is an error, and would be one the less if it were not.

import { say } from "../src/words.js";

// @ts-expect-error: there is no such message.
say("verdict-waitign");
// @ts-expect-error: it needs a figure.
say("verdict-sum");
// @ts-expect-error: it needs a figure of another name.
say("verdict-sum", { sum: 98 });
// @ts-expect-error: it needs a number.
say("verdict-sum", { sum_percent: "98" });
// @ts-expect-error: it needs nothing.
say("verdict-waiting", { sum_percent: 98 });
// @ts-expect-error: one of the two needs a figure.
say(Math.random() < 0.5 ? "verdict-waiting" : "verdict-sum");
