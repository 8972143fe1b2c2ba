# How everything is said in English, in Project Fluent's syntax (its guide: projectfluent.org).
#
# A message is said in one of two ways:
# - What the engine found: its subject and its kind are the name, such as `verdict-holds` or `remark-weeps`. Which there are, and
#   with which figures, stands in findings.json; a message need not use every figure.
# - What the page says of itself: `say("verdict-waiting")`, or `say("sum", { sum_percent: 98 })` with what the message names.
#
# Figures never stand bare. Their names end in what they are, and a function of that kind writes them in the reader's units, with
# the decimal mark of the reader's locale and a space that keeps figure and unit on one line:
#   { TEMP($at_c) }                 29 °C, 84 °F: to half a degree, as closely as a prediction is worth saying
#   { TEMP($at_c, digits: 1) }      28.3 °C, 82.9 °F: what the reader gave, as it was given
#   { TEMP($at_c, unit: "none") }   29: the first of two, as in "15 to 29 °C"
#   { TEMPDIFF($room_k) }           2.5 °C, 5 °F: how far apart two temperatures are
#   { MASS($jar_g) }                250 g, 8.82 oz
#   { PERCENT($oil_percent) }       12 %; with digits: 1, 12.4 %
#   { NUMBER($hours, digits: 1) }   1,234.5
#   { NAME($id) }                   Shea butter: an ingredient or a line of the reader's own
#   { NAMES($ids) }                 Shea butter, Cocoa butter, and Beeswax
#   { TEXT($name) }                 what the reader typed
# A choice is made by a number's plural, or by a word: { $jars -> [one] jar *[other] jars }.
#
# `cargo page words` checks all this and writes the type of the messages for the page's scripts, so that TypeScript knows them.
# Another language is another such file.

verdict-empty = Add an ingredient to see how it melts.
verdict-waiting = Working out how it melts…
verdict-sum = The recipe adds up to { PERCENT($sum_percent, digits: 2) }. At 100 % the prediction goes on.
