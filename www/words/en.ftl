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
#   { VOLUME($jar_ml) }             120 mL, 4 fl oz
#   { LENGTH($foam_mm) }            30 mm, 1.2 in
#   { PERCENT($oil_percent) }       12 %; with digits: 1, 12.4 %
#   { SECONDS($half_s) }            45 seconds, 3 minutes
#   { HOURS($after_h) }             45 minutes, 3.5 hours, 2.5 days
#   { TEMP(20) }                    20 °C, 68 °F: a figure of the message's own
#   { NUMBER($count, digits: 1) }   1,234.5: whatever else is counted
#   { NAME($id) }                   shea butter: an ingredient, or a line of the reader's own, within a sentence
#   { NAMES($ids) }                 shea butter, cocoa butter, and beeswax
#   { TEXT($typed) }                what the reader typed
#   { WORDS($class, of: "firmness") }  scoops and spreads: what another message has for a word of the engine's
# A choice is made by a number's plural, or by a word: { $jars -> [one] jar *[other] jars }. A finding within a finding, such as
# the air of a journey, is said by the name of its figure, and stands as { $air }. Several messages may share a part, which is a
# message of its own: { holds-shape }.
#
# `cargo page words` checks all this and writes the type of the messages for the page's scripts, so that TypeScript knows them.
# Another language is another such file.

## The climate

skin-is-cooler = Hands and arms are { TEMP(32, unit: "none") } to { TEMP(34) } on the surface, not { TEMP(37) }.
warm-room = { TEMP(30) } for a week

## The verdict

verdict-empty = Add an ingredient to see how it melts.
verdict-waiting = Working out how it melts…
verdict-sum = The recipe adds up to { PERCENT($sum_percent, digits: 2) }. Bring it to 100 %, and it is predicted again.

verdict-no-engine = The verdict comes as soon as the engine of this page is here.
verdict-with-this = With this: { $verdict }
verdict-late = Of what was on the bench before.

holds-shape = { $format ->
    [whipped] keeps its whip
    [bar] stays firm enough for a bar
    [stick] stays firm enough for a stick
   *[pot] holds its shape
}
gives-way = { $format ->
    [whipped] collapse
    [bar] soften
    [stick] soften
   *[pot] slump
}
verdict-mostly-powder = { PERCENT($powder_percent) } of it is powder, more than its fat can bind: it crumbles, and is no butter.
verdict-never-holds = { $format ->
    [whipped] It never has enough crystals to hold air: it is an oil at any storage.
    [bar] It never gets firm enough for a bar at any storage.
    [stick] It never gets firm enough for a stick at any storage.
   *[pot] It never sets: it is an oil at any storage.
}
verdict-gel-not-foreseen = What it holds sets oil to a gel, and how firm that is and how much heat it bears is not foreseen here: only a trial batch shows it.
verdict-too-soft-even-cold = It { holds-shape } only below { TEMP($holds_to_c) }, so it is too soft even at your coldest { TEMP($coldest_c, digits: 1) }.
verdict-fails-in-heat = It { holds-shape } to { TEMP($holds_to_c) }, so it will { gives-way } on your hottest days ({ TEMP($hottest_c, digits: 1) }).
verdict-fails-just-in-heat = It { holds-shape } to just under { TEMP($hottest_c, digits: 1) }, so it will { gives-way } on your hottest days.
verdict-just-holds = It { holds-shape } on your hottest days ({ TEMP($hottest_c, digits: 1) }), with nothing to spare.
verdict-holds-barely = It { holds-shape } to { TEMP($holds_to_c) }, just above your hottest days ({ TEMP($hottest_c, digits: 1) }).
verdict-holds = It { holds-shape } to { TEMP($holds_to_c) }, above your hottest days ({ TEMP($hottest_c, digits: 1) }).
verdict-holds-well = It { holds-shape } to { TEMP($holds_to_c) }, well above your hottest days ({ TEMP($hottest_c, digits: 1) }).
verdict-nearly-every-batch = Nearly every batch holds on your hottest days: jars of one ingredient differ.
verdict-batches-in-some = About { NUMBER($batches) } { $batches ->
    [one] batch
   *[other] batches
} in { NUMBER($some) } { $batches ->
    [one] holds
   *[other] hold
} on your hottest days: jars of one ingredient differ.
verdict-hardly-any-batch = Hardly any batch holds on your hottest days: jars of one ingredient differ.
verdict-holds-once-settled = Once settled it { holds-shape } to { TEMP($holds_to_c) }; for its first days to weeks keep it below { TEMP($fresh_to_c) }.
verdict-holds-only-settled = Once settled it { holds-shape } to { TEMP($holds_to_c) }; for its first days to weeks keep it in the fridge.
odds-stand-on = How many batches hold goes by how much lots of its ingredients vary, as published.
brief-holds-to = Holds to { TEMP($holds_to_c) }, hottest { TEMP($hottest_c, digits: 1) }
brief-once-settled = Holds to { TEMP($holds_to_c) } once settled; cool at first
brief-just-under = Holds to just under { TEMP($hottest_c, digits: 1) }
brief-just-holds = Just holds at { TEMP($hottest_c, digits: 1) }
brief-too-soft = Holds only below { TEMP($holds_to_c) }
brief-never = Never holds its shape
brief-powder = Mostly powder: it crumbles
brief-gel = A gel: not foreseen
verdict-on-skin = On skin it { WORDS($feel, of: "skin") }.
verdict-too-hard = At { TEMP($usual_c, digits: 1) } it is harder than you want.
verdict-too-soft = At { TEMP($usual_c, digits: 1) } it is softer than you want.
verdict-hard-to-take-out = At { TEMP($coldest_c, digits: 1) } it is hard to take out.
verdict-too-much-perfume = { PERCENT($perfume_percent, digits: 1) } of essential oil or fragrance is more than the { PERCENT($most_percent, digits: 1) } that are usual on skin: its own IFRA certificate says how much it may be.

firmness-pourable = pours like an oil
firmness-slack = slack, weeps oil
firmness-soft = soft, spreads at a touch
firmness-scoopable = scoops and spreads
firmness-firm = firm, needs pressing
firmness-hard = hard, must be scraped or rubbed
firmness-snapping = brittle, snaps

skin-melts = melts
skin-light-film = melts and leaves a light film
skin-rubs-out = does not melt: wax leaves a film
skin-lingers = melts slowly and leaves some body
skin-waxy = stays as a waxy film

## Wishes that are not met

structure-short = strength { PERCENT($found_percent, digits: 1) }, needs { PERCENT($low_percent, digits: 1) }
structure-over = strength { PERCENT($found_percent, digits: 1) }, may have { PERCENT($high_percent, digits: 1) }
miss-does-not-hold = Does not keep its shape at { TEMP($at_c, digits: 1) } ({ structure-short }).
miss-loses-air = Too few crystals to hold its air at { TEMP($at_c, digits: 1) } (strength without wax { PERCENT($found_percent, digits: 1) }, needs { PERCENT($low_percent, digits: 1) }).
miss-softer = Softer than wanted at { TEMP($at_c, digits: 1) } ({ structure-short }).
miss-harder = Harder than wanted at { TEMP($at_c, digits: 1) } ({ structure-over }).
miss-leaves-less = Rubbed in, where it warms to { TEMP($at_c, digits: 1) }, it leaves less on skin than wanted ({ PERCENT($found_percent, digits: 1) } is felt, at least { PERCENT($low_percent, digits: 1) } wanted).
miss-leaves-more = Rubbed in, where it warms to { TEMP($at_c, digits: 1) }, it leaves more on skin than wanted ({ PERCENT($found_percent, digits: 1) } is felt, at most { PERCENT($high_percent, digits: 1) } wanted).
miss-softer-than-now = Softer than now at { TEMP($at_c, digits: 1) } (strength { PERCENT($found_percent, digits: 1) }, now { PERCENT($high_percent, digits: 1) }).
miss-harder-than-now = Harder than now at { TEMP($at_c, digits: 1) } (strength { PERCENT($found_percent, digits: 1) }, now { PERCENT($high_percent, digits: 1) }).
miss-leaves-less-than-now = Rubbed in, where it warms to { TEMP($at_c, digits: 1) }, it leaves less on skin than now ({ PERCENT($found_percent, digits: 1) } is felt, now { PERCENT($high_percent, digits: 1) }).
miss-leaves-more-than-now = Rubbed in, where it warms to { TEMP($at_c, digits: 1) }, it leaves more on skin than now ({ PERCENT($found_percent, digits: 1) } is felt, now { PERCENT($high_percent, digits: 1) }).

## What to mind

remark-weeps = At { TEMP($hottest_c, digits: 1) } about { PERCENT($oil_percent) } of it is oil that the crystals cannot hold: it will weep.
remark-known-roughly = How much such crystals stiffen is known only roughly: at { TEMP($hottest_c, digits: 1) } anything from “{ WORDS($softest, of: "firmness") }” to “{ WORDS($hardest, of: "firmness") }” is possible.
remark-may-hold-less = At its weakest it keeps its shape only to { TEMP($holds_to_c) }.
remark-paste = With { PERCENT($powder_percent) } powder it is a paste rather than a butter: outside what was checked, so make trial batches.
remark-powder-decides = At { TEMP($hottest_c, digits: 1) } its powder makes the difference: powder thickens, but it does not set, and in a melt it settles to the bottom.
remark-balm = With { PERCENT($wax_percent, digits: 1) } wax it is a balm rather than a butter: outside what was checked, so make trial batches.
remark-gels-oil = Hydroxystearic acid and hydrogenated castor oil set oil to a gel that the model does not have: it may be far firmer, and hold in more heat. Make trial batches.
remark-silica = Fumed silica thickens far more than powder counts for here: make trial batches.
remark-grazes = From { TEMP($from_c) } to { TEMP($to_c) } it lies within a twentieth of what it needs to keep its shape: a little more or less of anything moves where it gives way by as much.
remark-above-use = { PERCENT($percent, digits: 1) } of { NAME($id) } is more than the trade usually takes ({ PERCENT($most_percent, digits: 1) }): look up why before you make it.
remark-holds-above-slip = Fats with as few crystals slip at { TEMP($slip_c, digits: 1) }, which is the slip point told here; its wax holds it together to { TEMP($holds_to_c, digits: 1) }, and a tube of it would slip about there.
remark-liquids-part = Castor oil does not mix with mineral oil or petrolatum unless another oil carries it, and the model takes all liquids for one: look for layers in a trial.
remark-skin-is-near = Your hottest storage, { TEMP($hottest_c, digits: 1) }, is only { TEMPDIFF($gap_k, digits: 1) } below skin: a butter should hold about { TEMPDIFF($margin_k) } above its storage, so what holds with that to spare will melt slowly on skin.
remark-as-warm-as-skin = Your hottest storage, { TEMP($hottest_c, digits: 1) }, is as warm as skin ({ TEMP($skin_c, digits: 1) }) or warmer, so a butter that stays solid there cannot melt on skin. What can still be had: shape in the heat, an easy scoop in the cool hours, and as little waxiness as that allows. This is outside what was checked: make trial batches.

pack-soaks-through = At { TEMP($hottest_c, digits: 1) } it pours: paper and board would soak through and leak.
pack-may-soak-through = At { TEMP($hottest_c, digits: 1) } it may pour, as far as can be told: too risky for paper and board.
pack-stains = At { TEMP($hottest_c, digits: 1) } oil weeps out of it and will stain paper and board.
pack-holds-upright = At { TEMP($hottest_c, digits: 1) } it pours: a tin with a slip lid keeps it in only while it stands upright.
pack-holds-liquid = At { TEMP($hottest_c, digits: 1) } it pours, but a closed pack keeps it in.
pack-holds = It does not pour at { TEMP($hottest_c, digits: 1) }, so the pack holds it.

## Making it

sets-alone = here the part that melts highest sets alone, and slow cooling grows it into grains. A bath of cold water does; then keep it at { TEMP($rest_from_c, unit: "none") } to { TEMP($rest_to_c) } without swings (common practice)
filled = { $format ->
    [bar] moulds
    [stick] tubes
   *[pot] pots
}
step-melt-out = Warm all of it to { TEMP($melt_out_c) } and keep it there { NUMBER($hold_min) } minutes, so that no crystal survives to seed coarse ones.
step-cannot-be-whipped = It never has the crystals that hold air, so it cannot be whipped as it is.
step-cool-fast-stirring = Cool it quickly and stir it from { TEMP($from_c, unit: "none") } to { TEMP($to_c) }: { sets-alone }.
step-cool-stirring = Cool it steadily with stirring.
step-whip = Whip it between { TEMP($from_c, unit: "none") } and { TEMP($to_c) }, where { PERCENT($from_percent, unit: "none") } to { PERCENT($to_percent) } of it is crystals: below that it tears, above it holds no air. The range comes from studies of whipped oils and is a guide only.
step-pour = Let it cool while you stir, and pour it between { TEMP($from_c, unit: "none") } and { TEMP($to_c) }: the cooler it still flows, the finer it sets and the less it sinks in the middle.
step-cool-filled-fast = Cool the filled { filled } quickly from { TEMP($from_c, unit: "none") } to { TEMP($to_c) }: { sets-alone }.
step-cool-filled = Let the filled { filled } cool steadily, then keep them at { TEMP($rest_from_c, unit: "none") } to { TEMP($rest_to_c) } without swings (common practice).
step-fill-cool = Nothing in it has to set before it is filled: fill it when cool.
step-demould = Take bars out of the mould once they are below { TEMP($below_c) } all through.
step-judge-later = Judge it after some days: crystals go on settling, and it gets firmer.
step-judge-next-day = Judge it the day after: by then it is about what it stays.

caution-open-heat = Heat in a water bath, never over a flame or on a bare plate, and never leave it alone: fats and waxes burn, stearic acid and paraffin from a flash point of about { TEMP($flash_from_c, unit: "none") } to { TEMP($flash_to_c) }.
caution-vapour = Essential oils, fragrance and light alkanes give off vapour that catches fire from some { TEMP($flash_from_c, unit: "none") } to { TEMP($flash_to_c) } on: stir them in last, as cool as the butter still flows, away from any flame or hot plate, and air the room.
caution-water = Keep water out of hot fat and wax: it spatters. Never put water on burning fat: cover it, or use powder or carbon dioxide.
caution-burns = Hot fat sticks: cool a burn under running water, and do not peel wax off.
caution-darkens = Above { TEMP($above_c) } beeswax darkens and oils age quickly: melt the wax with a little of the oil first, and keep the rest cooler.

settling-at-once = It settles at once: what you feel on the day after making is about what stays.
settling-firms-a-little = It will firm up a little in the first days to weeks, but at { TEMP($at_c, digits: 1) } it stays “{ WORDS($class, of: "firmness") }”.
settling-firms = It will firm up in the first days to weeks: at { TEMP($at_c, digits: 1) } from “{ WORDS($from, of: "firmness") }” to “{ WORDS($to, of: "firmness") }”.
settling-slip-rises = Its slip point rises from { TEMP($from_c, unit: "none") } to { TEMP($to_c) }.
settling-keep-cool = Keep it cool until then: fresh, it does not hold its shape at { TEMP($hottest_c, digits: 1) }.
settling-judge-then = Judge it then, not on the day.

dab-nothing-solid = At { TEMP($start_c) } there is next to nothing solid in it to melt: it goes on as it is.
dab-both = A still dab { LENGTH($film_mm) } thick loses half of its solids in { SECONDS($skin_s) } under a fingertip; spread thin between palms, in { SECONDS($palms_s) }.
dab-between-palms = Skin melts less than half of it; between palms half of its solids are gone in { SECONDS($palms_s) }.
dab-leaves-film = More of it stays on skin than counts as melting, so no time is told.
dab-neither = Neither skin nor palms melt half of its solids.

## What went wrong

sign-turns-to-oil = Turns to oil
sign-oil-pool = Lumps in a pool of oil
sign-soft-top = Soft, wet top
sign-separated-layers = Separated layers
sign-grainy = Grainy
sign-too-hard-in-the-cold = Too hard in the cold
sign-waxy-on-skin = Waxy, drags on skin
sign-greasy-on-skin = Greasy on skin
sign-smells-off = Smells off, or mouldy
sign-harms-skin = Itches, stings or burns
sign-water-in-it = Drops of water

cause-dissolves = Above { TEMP($onset_c) } nearly all its crystals have dissolved.
cause-never-sets = There are never enough crystals to set it.
cause-always-knit = What is solid holds it together at any temperature.
cause-knits = At { TEMP($hottest_c, digits: 1) } its strength is { PERCENT($structure_percent) }; below about { PERCENT($needs_percent) } it falls apart.
cause-oil-loose = Above { TEMP($onset_c) } too few crystals are left to hold the oil between them.
cause-oil-always-loose = At any temperature there are too few crystals to hold the oil between them.
cause-oil-always-held = At any temperature enough is solid to hold the oil.
cause-lumps = At { TEMP($hottest_c, digits: 1) } its strength is { PERCENT($structure_percent) }, and about { PERCENT($needs_percent) } is needed: lumps lie in free oil.
cause-oil-held = At { TEMP($hottest_c, digits: 1) } its strength is { PERCENT($structure_percent) }; about { PERCENT($needs_percent) } is enough.
cause-net-thin = Above { TEMP($onset_c) } the net of crystals is thin.
cause-net-always-thin = At any temperature the net of crystals is thin.
cause-net-holds = This needs a thin net of crystals that warmth melts further, which this recipe does not have in your storage.
cause-warmed-from-outside = Warmth comes in from the lid and the wall first, melts crystals there and lets oil out, while the middle is still firm.
cause-parts = Between { TEMP($from_c, unit: "none") } and { TEMP($to_c) } part of it is melted and part still solid: the solid part sinks or floats, and it sets in layers.
cause-does-not-part = This recipe hardly parts. It was perhaps filled or stirred while only partly melted.
cause-few-crystals = It has next to no fat crystals ({ PERCENT($solid_percent) } at usual storage). What rolls is wax, fatty acid or alcohol that set slowly, or was not melted out.
cause-regrows = Of { PERCENT($solid_percent) } fat crystals, { PERCENT($left_percent) } are left at { TEMP($hottest_c, digits: 1) }. What melts there sets again on them, slowly and coarsely. A batch that cools slowly does the same.
cause-stiff = Below { TEMP($onset_c) } crystals knit it stiff.
cause-not-stiff = It does not get stiff by this recipe’s crystals.
cause-stays-on-skin = On skin { PERCENT($felt_percent) } of it is felt as wax or unmelted fat; up to about { PERCENT($waxy_percent, digits: 1) } nobody notices.
cause-melts-on-skin = By its recipe it melts on skin: perhaps too much was taken at once, or it was cold or grainy.
cause-oil-in-the-jar = At { TEMP($usual_c, digits: 1) } { PERCENT($oil_percent) } of it is oil that nothing takes up.
cause-not-to-judge = What a skin does not bear cannot be foreseen here: perfume, an acid, a powder, an allergen or an old oil may be to blame.
cause-water-came-in = Water comes in as steam under a lid that was closed warm, from wet tools, or with aloe, honey or milk, which do not belong in a butter without water.
cause-not-of-melting = A smell does not come from melting: an oil is old, or something in it spoiled.
cause-cold-structure = At { TEMP($coldest_c, digits: 1) } its strength is { PERCENT($structure_percent) }.

reading-always = This recipe does that at any temperature.
reading-goes-further = This recipe goes further than that in your storage.
reading-never = This recipe does not do that at any temperature. Look for another cause: another batch of an ingredient, a weighing slip, or water in it.
reading-hard-below = It gets that hard below { TEMP($onset_c) }.
reading-warmer-than-given = It starts above { TEMP($onset_c) }. If you saw it, the jar was warmer than the { TEMP($hottest_c, digits: 1) } you gave: in sun, in a car or on its way.
reading-just-begun = It starts above { TEMP($onset_c) }, so at your hottest storage, { TEMP($hottest_c, digits: 1) }, it has only just begun: if it went far, the jar was warmer.
reading-hot-enough = It starts above { TEMP($onset_c) }, so your hottest storage, { TEMP($hottest_c, digits: 1) }, is enough for it.
reading-shape-goes-first = Its shape goes sooner: it { holds-shape } only to { TEMP($holds_to_c) }.
reading-none-holds-there = No butter that melts on skin holds in such heat: { TEMP($most_c, digits: 1) } is the most to ask for. On its way, keep it cooler.
reading-cooled-slowly = Or the batch cooled slowly when it was made: that grows grains in any storage.

remedy-melt-higher = Take part of the oil out for a butter that melts higher, or add a little fatty acid, alcohol or wax: ask for a rework to the hottest that it sees.
remedy-melt-anew = What has turned to oil can be melted fully and cooled quickly, and used if it is clean and unspoiled. A whipped one must be whipped anew: its air is gone.
remedy-keep-cooler = Store and send it cooler.
remedy-hold-more-oil = Raise what stays solid in the heat: some hard butter in place of oil, or a little wax, which holds several times its weight of oil.
remedy-do-not-stir-in = Do not stir the oil back in: melt it out, cool it quickly and stir.
remedy-fill-to-rim = Keep the jar from sun and warm shelves, and fill to the rim: a warm head of air melts the top.
remedy-flatter-fall = A little more that stays solid at the hottest storage; avoid a recipe whose solids fall steeply just there.
remedy-fill-cool = Melt it out fully before filling, fill as cool as it still flows, and stir until it clouds.
remedy-closer-ranges = Bring the melting ranges closer: less wax or fatty acid, more of a butter that melts between.
remedy-cool-fast = Melt it out fully, hold it, then cool it quickly with stirring to { TEMP($rest_from_c, unit: "none") } to { TEMP($rest_to_c) }, and keep it there: no slow cooling, no partial melting.
remedy-melt-less = Ask for a rework to the hottest that it sees, so that fewer crystals melt there.
remedy-blend-unlike = A blend of unlike fats (one such as coconut with one such as mango, say) sets finer than one fat alone (common practice).
remedy-less-hard = Swap some hard butter for oil, or for a soft butter whose solids change less with temperature, and make up for the heat with a little wax.
remedy-less-wax = Less wax, stearic acid or cetyl alcohol, and more of a butter that melts just below skin, such as cocoa or kokum.
remedy-use-less = Take less, and warm it between the palms first.
remedy-less-oil = Take part of the oil out for a butter: what is solid in the jar feels drier.
remedy-take-oil-up = A few percent of starch or another light powder takes oil up (common practice); more makes a paste.
remedy-stop-using = Stop using and selling it, wash it off, and ask a doctor or a pharmacist if it does not calm down. Keep the jar and the sheet of its batch.
remedy-cool-burns = A burn by hot fat: cool it under running water for 20 minutes, do not peel off what sticks, and get help if it is larger than a coin or blisters.
remedy-throw-away-wet = Where water stands, germs and mould grow, and nothing in such a butter stops them: throw away what was wet for days.
remedy-close-cool = Next time: dry jars and tools, and lids only once the butter is as cool as the room.
remedy-throw-away = If it smells of old oil or paint, or is mouldy, throw it away: no change of recipe mends that.
remedy-fresh-oils = Next time: fresh oils with a date, dry spoons, cool and dark storage; vitamin E slows the ageing of oils (common practice).
remedy-let-it-warm = Let it stand at room temperature before use; whipped, the same fat feels softer.

## On its way in the heat

air-parked-car-sun = a clear summer day in a car parked in the sun
air-parked-car-shade = a hot day in a car parked in the shade
air-dashboard = a hot day on the dashboard of a car in the sun
air-delivery-van = a hot day’s round in an uncooled van
air-mailbox = a summer day in a parcel box in the sun
air-sea-container = three hot days in a container on deck
air-warm-room = a week in a room at { TEMP($at_c) }
air-constant = { HOURS($for_h) } at { TEMP($at_c, digits: 1) }
air-listed = the course that you gave

packing-foam = in { LENGTH($foam_mm) } of foam
packing-foam-and-cold = in { LENGTH($foam_mm) } of foam with { MASS($cold_g, digits: 1) } of cold packs

journey-comes-through = It comes through { $air } with its shape: at most { PERCENT($melted_percent) } of its solids melt.
journey-outside-softens = It comes through { $air } with its shape; its outside softens ({ PERCENT($lost_percent) } of it), and at most { PERCENT($melted_percent) } of its solids melt.
journey-slumps = It starts to slump after { HOURS($after_h) } of { $air }; in the end { PERCENT($lost_percent) } of it is slack.
journey-too-soft-from-the-start = It is too soft for its format from the start, whatever the air does.
journey-assumed = Assumed: still air, one pack as a body of its size and surface, the same melting curve in both directions (a real fat lags behind it), no sun directly on the pack. Not checked against loggers in parcels.

afterwards-unchanged = It stays as it was.
afterwards-smoother-skin = It sets again as it was, but for a smoother or greasier skin where the outside softened.
afterwards-may-grain = It keeps its shape, but what melted sets again slowly on the crystals that are left: grains may show after some days.
afterwards-as-before = It is afterwards what it was before: it never held its shape.
afterwards-loses-air = It sets again, but without its air: lower in the jar, dense and glossy.
afterwards-sets-unseeded = It sets again in its pack, slowly and with nothing to seed it, so coarse: expect grains, a sunken middle, or softness for days.
afterwards-sets-coarse = It sets again in its pack, slowly and on what crystals are left, so coarse: expect grains, a sunken middle or oil on top.
afterwards-out-of-shape = It sets again out of shape, and may be grainy or bloomed.
afterwards-leaks = All of it poured: paper and board leak.
afterwards-needs-tight-lid = All of it poured: only a tight lid keeps it in.

advice-rework-first = Recipe: ask for a rework to the storage that it sees first; what does not hold there holds in no parcel.
advice-no-butter-comes-through = Packed like this the outer tenth of it reaches { TEMP($rind_c) }, as warm as skin ({ TEMP($skin_c, digits: 1) }) or warmer: no butter that melts on skin comes through that, whatever the recipe.
advice-rework = Packed like this the outer tenth of it reaches { TEMP($rind_c) }, below skin ({ TEMP($skin_c, digits: 1) }): a rework that holds at { TEMP($holds_to_c) } can come through.
advice-pack = Packaging: { $packing } it keeps its shape throughout.
advice-packing-is-not-enough = Packaging alone does not do: even { $packing } it slumps after { HOURS($after_h) }.
advice-hurry = Speed: as it is packed, it must be out of the heat within { HOURS($within_h) }; if it is sent, then early in the week and to a pick-up point indoors.
advice-season = Season: send it in the cool months, and say so in the shop.
advice-another-product = Another product: a lotion or cream, an emulsion with water, does not depend on melting and stands such heat (it needs a preservative and its own safety assessment).

time-seconds = { NUMBER($count) } { $count ->
    [one] second
   *[other] seconds
}
time-minutes = { NUMBER($count) } { $count ->
    [one] minute
   *[other] minutes
}
time-hours = { NUMBER($count, digits: 1) } { $count ->
    [one] hour
   *[other] hours
}
time-days = { NUMBER($count, digits: 1) } { $count ->
    [one] day
   *[other] days
}

## Reworks and rescues

rework-stays-as-now = Nothing needs to change: the recipe stays as it is.
rework-good-as-it-is = Nothing needs to change: the recipe meets every wish as it is.
rework-nothing-nearer = Nothing in your pantry comes nearer than the recipe as it is.
rework-moves = { PERCENT($shift_percent, digits: 2) } moves from { NAMES($from_ids) } to { NAMES($to_ids) }.
rework-batch-is-good = Nothing needs to be added: the batch meets every wish as it is.
rework-nothing-helps = Nothing in your pantry helps this batch.
rework-melt-in = Melt in { MASS($added_g, digits: 2) } of { NAME($id) }.
rework-batch-grows = With that the { MASS($batch_g, digits: 2) } become { MASS($whole_g, digits: 2) }.
rework-firmer = More { WORDS($carrier, of: "carrier") } at { TEMP($at_c, digits: 1) }: strength rises from { PERCENT($from_percent, digits: 1, unit: "none") } to { PERCENT($to_percent, digits: 1) }.
rework-softer = { fewer } { WORDS($carrier, of: "carrier") } at { TEMP($at_c, digits: 1) }: strength falls from { PERCENT($from_percent, digits: 1, unit: "none") } to { PERCENT($to_percent, digits: 1) }.
rework-as-firm = At { TEMP($at_c, digits: 1) } its crystals do as much as before: strength stays at { PERCENT($structure_percent, digits: 1) }.
rework-more-on-skin = More { WORDS($carrier, of: "carrier") } on skin: what stays solid there rises from { PERCENT($from_percent, digits: 1, unit: "none") } to { PERCENT($to_percent, digits: 1) }.
rework-less-on-skin = { fewer } { WORDS($carrier, of: "carrier") } on skin: what stays solid there falls from { PERCENT($from_percent, digits: 1, unit: "none") } to { PERCENT($to_percent, digits: 1) }.
rework-as-much-on-skin = On skin as much stays solid as before: { PERCENT($solid_percent, digits: 1) }.
rework-with-more-of = That comes from more { NAMES($ids) }.
rework-with-less-of = That comes from less { NAMES($ids) }.
rework-dissolves-less = That is because fewer of them dissolve in { NAMES($ids) }.
rework-dissolves-more = That is because more of them dissolve in { NAMES($ids) }.
rework-cold-stays = In the cold, at { TEMP($coldest_c, digits: 1) }, it stays “{ WORDS($class, of: "firmness") }” (strength { PERCENT($to_percent) }, before { PERCENT($from_percent) }).
rework-cold-changes = In the cold, at { TEMP($coldest_c, digits: 1) }, it goes from “{ WORDS($from, of: "firmness") }” to “{ WORDS($to, of: "firmness") }” (strength { PERCENT($to_percent) }, before { PERCENT($from_percent) }).
rework-on-skin = On skin { PERCENT($to_percent, digits: 1) } stays solid, before { PERCENT($from_percent, digits: 1) }.
rework-nearest-to-now = No recipe is just as it is now; this is the nearest of its kind.
rework-nearest = No recipe does all you ask; this one does most for least.
rework-holds-less-surely = It does all you ask, but holds in fewer batches than you want.
rework-leave-as-refused = Left out, as you asked: { NAMES($ids) }.
rework-nearest-rescue = Nothing in your pantry does all you ask; this does most for least.
rework-towards-balm = With { PERCENT($wax_percent, digits: 2) } wax it turns towards a balm.
rework-wax-holds-no-air = Wax stiffens a whipped butter but holds no air: whip a small trial first (studies of whipped oils, low confidence).
rework-grows-grains = Grains can grow from { NAMES($ids) }: melt all of it out, cool it fast while you stir, and keep it without swings (common practice).
feel-more-drag = more drag on skin
feel-less-drag = less drag on skin
feel-greasier = greasier
feel-drier = drier
feel-slower-to-melt = slower to melt
feel-faster-to-melt = faster to melt
feel-firmer-in-the-cold = firmer in the cold
feel-softer-in-the-cold = softer in the cold
feel-more-matt = more matt
feel-glossier = glossier
feel-is = Feels { TEXT($what) }.
fewer = { $carrier ->
    [powder] Less
   *[other] Fewer
}
carrier-fat-crystals = fat crystals
carrier-fatty-acid-crystals = fatty-acid crystals
carrier-fatty-alcohol-crystals = fatty-alcohol crystals
carrier-wax-crystals = wax crystals
carrier-glyceride-crystals = mono- and diglyceride crystals
carrier-powder = powder

seasons-one-serves-both = One recipe serves both seasons.
seasons-differ = From summer to winter { $lines ->
    [one] one line changes
   *[other] { NUMBER($lines) } lines change
}; the rest stays.
seasons-none-in-fewer = No two good versions differ in fewer.
seasons-stopped = Stopped early: versions that differ in fewer lines may exist.

no-butter-snaps = It snaps at room temperature, as chocolate does: no longer a butter.
no-butter-film = { PERCENT($skin_percent) } is felt on skin, wax counted five times: above { PERCENT($most_percent) } it is a film, no longer a butter that melts.
no-butter-balm = { PERCENT($wax_percent, digits: 1) } wax: above { PERCENT($most_percent) } it is a balm, no longer a butter.

wanted-class = { $class ->
    [pourable] pour
    [slack] be slack
    [soft] be soft
    [scoopable] scoop
    [firm] be firm
    [hard] be hard
   *[snapping] snap
}
wanted-on-skin = { $on_skin ->
    [melts] melt on skin
    [lingers] leave some body on skin
   *[stays] leave a film on skin
}
at-most-holds = The most it can hold is { TEMP($holds_to_c, digits: 1) }.
at-most-holds-on-skin = The most it can hold and still { wanted-on-skin } is { TEMP($holds_to_c, digits: 1) }.
at-most-holds-as-firm = The most it can hold and still { wanted-class } every day is { TEMP($holds_to_c, digits: 1) }.
at-most-holds-as-firm-on-skin = The most it can hold and still { wanted-class } and { wanted-on-skin } is { TEMP($holds_to_c, digits: 1) }.
at-most-not-as-firm = It can hold { TEMP($holds_to_c, digits: 1) }, but it cannot also { wanted-class } every day.
at-most-on-skin-not-as-firm = It can hold { TEMP($holds_to_c, digits: 1) } and { wanted-on-skin }, but it cannot also { wanted-class } every day.
at-most-holds-alone = It can hold { TEMP($holds_to_c, digits: 1) }, but not feel as you want as well.
at-most-not-even-cold = Nothing in your pantry makes it hold, even at your coldest, { TEMP($coldest_c, digits: 1) }.

## Weighing and the label

dose-note-melts-there = hardly moves: it melts about where the butter does or before (alone at { TEMP($alone_c) })
dose-note-melts-sooner = falls: it melts about where the butter does or before (alone at { TEMP($alone_c) }), and what it takes the place of stayed solid longer
dose-note-holds-no-air = wax stiffens, but holds no air
dose-note-displaces-air = falls: wax stiffens, but holds no air, and it takes the place of what does
dose-note-idle = up to { PERCENT($to_percent) } { $of ->
    [clear] too little of it stays solid to move the clear point
    [slip] too little of it stays solid to move the slip point
   *[other] it does no more than what it takes the place of
}
dose-note-thins = falls up to { PERCENT($to_percent) }: there it dissolves, and with it the rest melts sooner
dose-note-displaces = falls up to { PERCENT($to_percent) }: it dissolves, and what it takes the place of was solid
dissolves-too = falls too, up to { PERCENT($to_percent) }
too-little-too = the same, up to { PERCENT($to_percent) }
flat-too = the same, for the same reason
no-air-too = stiffens too, and holds no air

batch-note-coarse-step = A step of { MASS($step_g, digits: 3) } is coarse for { NAME($id) }: { PERCENT($asked_percent, digits: 2) } becomes { PERCENT($weighed_percent, digits: 2) }. Take a finer scale or a larger batch.
label-note-rules-differ = Names and order may differ by region: below { PERCENT($any_order_percent) } many allow any order, some ask for common names beside Latin ones, the EU for fragrance allergens from small amounts on. Allergen groups are a reminder, no legal statement. Check the rules where you sell.
label-note-shares-assumed = Of an ingredient of several names, { PERCENT($extract_percent) } of an extract is assumed, else equal shares: ask your supplier.
label-note-own-names = These are your own names, not INCI: { NAMES($ids) }.

## A pasted recipe

text-remark-total-left-out = The line “{ TEXT($line) }” was taken for a total and left out.
text-remark-certificate = This reads as a certificate, not as a recipe: { $acids ->
    [one] one fatty acid
   *[other] { NUMBER($acids) } fatty acids
} with percentages. It says what one ingredient is made of.
text-remark-certificate-of = This reads as a certificate of { NAME($id) }, not as a recipe: { $acids ->
    [one] one fatty acid
   *[other] { NUMBER($acids) } fatty acids
} with percentages.
text-remark-link = There is a link of this page in it. Opening it puts what is on the bench on the shelf first.
text-remark-file = This is a file that this page saved, not a recipe in words. It belongs to “Open a recipe or a backup” under “Shelf and files”.
text-remark-mixed-units = Some lines are in percent and others are not: say how much those are in percent.
text-remark-water-based = “{ TEXT($line) }” is water, or mostly water. This is for water-free butters only, so the line was left out: with water a recipe is another thing, and needs a preservative.
text-remark-total-not-hundred = The percentages add up to { PERCENT($sum_percent, digits: 2) }.
text-remark-filled-up = “{ TEXT($name) }” was given what was missing from the whole.
text-remark-columns-disagree = The weights are not in the proportion of the percentages: the percentages were taken.
text-remark-two-recipes = These look like two recipes: leave out the lines of one.
text-remark-phases = The phases were put together.
text-remark-volumes = Volumes were turned into weights by the density of each ingredient: US cups and spoons, solid butters pressed in, 20 drops to a millilitre. Weigh for a better answer.
text-remark-worked-out = { $unit ->
    [grams] Grams
    [ounces] Ounces
    [percent] Percentages
   *[parts] Parts
} add up to { NUMBER($sum, digits: 2) }; percentages were worked out to { PERCENT($step_percent, digits: 2) }.
text-remark-added = “{ TEXT($name) }” is there twice; the amounts were added.
line-problem-no-name = This line has an amount but no ingredient: write its name beside it.
line-problem-no-amount = This line has no amount: write one.
line-problem-unknown = Nothing in the catalogue is called like that. Choose the nearest there is, describe it as an ingredient of your own, or leave the line out.
line-problem-ambiguous = This could be more than one ingredient: choose which.
line-problem-more-than-all = More than 100 %: check the amount.
line-problem-amount-range = A range or a limit: say how much it is.
line-problem-amount-bad = This is not one amount: say how much it is.
line-problem-unit-missing = How much that is cannot be told: choose a unit.
line-problem-units-mixed = The others are in percent or parts: say how much this is, in the same.
line-problem-ratio-mismatch = There are more or fewer numbers than names: say how much this is.
line-problem-other-recipe = The text holds two recipes: leave this line out, or those of the other.

## A link that was opened

link-remark-unknown-part = The link has a part, “{ TEXT($key) }”, that this version of the page does not know; it was left out.
link-remark-margin-is-surety = The link asked for a margin; reworks now go by how surely a butter holds, so it asks for 9 batches in 10.
link-remark-finds-otherwise = An older link: a rework may find another recipe now.

## Where figures come from

measured = Nine of ten measured figures of { TEXT($kind) } that nothing was fitted to lie within that ({ NUMBER($figures) } figures).
origin-solid = The state of lowest energy of all that is in the recipe, melted and crystallised, at each temperature, from published melting points and heats of fusion of the molecules it is made of. The largest error left in the sums is { TEXT($certificate) }. { measured }
origin-slip = Where 4.5 % solid is left, as an open capillary shows it. { measured }
origin-clear = Where 1 % solid is left, or a tenth of what is solid at { TEMP(20) } where that is less. { measured }
origin-softens = Where strength falls to the least that it needs: in a jar 12 %, bar 32 %, stick 20 % (common practice, no source); whipped, wax does not count, since a foam is held by fat crystals. The range holds nine lots in ten, if lots and the worth of such solids vary as published.
origin-firmness = By strength, what keeps the shape: solids, with wax crystals counted several times (Hwang 2012: 1 to 6 % sunflower wax is as firm as 18 to 30 % hardened soybean oil). The limits are those of margarine and chocolate practice; those between are ours.
origin-skin = Skin surface is { TEMP(32, unit: "none") } to { TEMP(34) }. Rubbed in under a hand it is some { TEMPDIFF(2.5) } warmer, and up to 8 % felt there, fat crystals one for one and wax five times, counts as melting: an assumption, no published limit was found. { $dab } Assumed: the film lies covered, skin is at one temperature before and blood warms it back; no measured times were found to check against.
origin-fresh = A fresh butter has its crystals in the form that chilling gives, a settled one in the stable form; both are sums as above. How long it takes is not computed: days to weeks, from memory. Two measured figures were found, both of untempered cocoa butter: { TEMP(26.7, digits: 1) } (Jin et al. 2017) and { TEMP(27.5, digits: 1) } (Wille & Lutton 1966, by a secondary source). One factor was fitted to lie between them, so that neither is a proof: it slips at { TEMP(27.0, digits: 1) } and is clear at { TEMP(27.2, digits: 1) }.
origin-making = Melt-out is above where the last crystal goes, with a margin that is common practice, no source; pouring and whipping follow the curve of solids, which errs by { NUMBER($points, digits: 1) } points, so by a few degrees. Whipping at 10 to 30 % solids comes from studies of whipped oils (low confidence).
origin-rework = Every way to change so many lines on the step of your scale is tried or excluded by a bound, so nothing smaller meets the wishes as they are predicted; the predictions err by ± { NUMBER($points, digits: 1) } points of solids. Two seasons: where one recipe is good for both, that is the answer; else no two versions that are good for their seasons differ in fewer lines.
origin-jars = Densities of the ingredients from the catalogue’s sources (Codex; from memory where none was found), a few percent off at most; the air whipped in is what you say. Prices are yours.
origin-hardeners = The same sums as for the recipe, once a dose. They err alike (solids ± { NUMBER($points, digits: 1) } points, slip ± { TEMPDIFF($slip_k, digits: 1) }, clear ± { TEMPDIFF($clear_k, digits: 1) }). No measured figures of hardeners in an oil-rich shea butter were found.
origin-heat = Heat flows through the pack into a row of thin layers of butter, each melting by the recipe’s own curve; the sums meet the textbook solution within 1 %. The air of each place is a published measurement, named with it. Not checked against loggers in parcels.

## The page: its frame

promise = Does your body butter hold in the heat, and what helps?
temperatures = Temperatures
curve-hint = Touch the curve: what is it like there?
curve-after = after
curve-settled = settled
curve-before = before
curve-fresh = fresh
close = Close
actions = Actions
stations = Stations
undo = Undo
redo = Redo
share = Share
station-bench = Bench
station-rework = Rework
station-make = Make
station-heat = Heat
station-trouble = Trouble
station-notebook = Notes
station-teach = Teach
not-a-number = This is not a number: write it like 12.5 or 12,5.
number-outside = Give a number from { $least } to { $most }.
number-vanishes = The least that is kept is { $least }: write that, or 0.
less-of = Less: { $what }
more-of = More: { $what }
cancel = Cancel
undone = Taken back: { $what }.
redone = Done again: { $what }.
change-none = nothing that shows
change-all = all that was changed together
change-line = { TEXT($name) } { PERCENT($from_percent, digits: 2, unit: "none") } → { PERCENT($to_percent, digits: 2) }
change-line-added = { TEXT($name) } { PERCENT($to_percent, digits: 2) } added
change-line-removed = { TEXT($name) } removed
change-recipe = the recipe
change-make-up = what a line is made of
change-coldest = coldest { TEMP($from_c, digits: 1, unit: "none") } → { TEMP($to_c, digits: 1) }
change-hottest = hottest { TEMP($from_c, digits: 1, unit: "none") } → { TEMP($to_c, digits: 1) }
change-name = the name
change-format = what it is sold as
change-skin = the skin
change-feel = what it should be
change-pack = the pack
change-asked = what is asked for
hottest-is-now = Your hottest days are now { TEMP($to_c, digits: 1) }, before { TEMP($from_c, digits: 1) }: that is what the answer is for. One Undo after using it takes both back.
change-journey = the way in the heat
change-picture = what the class is shown
change-limits = what a rework may do
change-price = a price
change-weighing = what is weighed
line-removed = { TEXT($name) } is off the recipe.
example-is-back = The worked example is back on the bench.
link-copied = The link is copied. It reopens this recipe, its climate and what you asked.
link-only-here = The link is copied, but it works only here: it leads to a file on this device. Send that file along with it, or the recipe as a file.
save-card = Save a card of it
card-before = Before: { $verdict }
page-title = Meltmargin
title-holds = { TEXT($name) } holds to { TEMP($holds_to_c) }, hottest { TEMP($hottest_c, digits: 1) }
title-never-holds = { TEXT($name) } never holds its shape
copy-link = Copy the link
link-by-hand = This browser does not let the page copy. Hold the link, or press Ctrl+C: it holds the whole recipe.
link-to-it = Link
newer-version = There is a newer version of this page.
update = Update

## The page: the bench

class-hard-butter = hard butter
class-soft-butter = soft butter
class-liquid-oil = liquid oil
class-fatty-acid = fatty acid
class-fatty-alcohol = fatty alcohol
class-wax = wax
class-other = other
class-own = your own
class-unknown = not in this catalogue
firm-pourable = pourable
firm-slack = slack
firm-soft = soft
firm-scoopable = scoopable
firm-firm = firm
firm-hard = hard
firm-snapping = snapping
allergen-bee = bee products
allergen-coconut = coconut
allergen-palm = palm (not an allergen, but some avoid it)
allergen-peanut = peanut
allergen-sesame = sesame
allergen-soy = soy
allergen-tree-nut = tree nuts
allergen-wheat = wheat
allergen-wool = wool (lanolin)
unnamed-butter = This butter
worked-example = { TEXT($name) }, a worked example.
doors = Begin with
doors-on = Go on
door-recipe = My recipe
door-melted = My batch melted
door-class = Show a class
door-make = Make it
drag-hint = Drag the right handle: what would hold there?
verdict-opening = Opening what was on the bench…
verdict-title = Verdict
what-changed = What changed
verdict-is = Verdict:
take-it-from = Take it from
give-it-to = Give it to
giver-becomes = { TEXT($name) }, then { PERCENT($to_percent, digits: 2) }
all-in-proportion = All, in proportion
make-it-whole = Make it 100 %
take-from = Take it from { TEXT($name) }
give-to = Give it to { TEXT($name) }
why-and-what-to-mind = Why
place-coldest = Coldest
place-hottest = Hottest
place-skin = On skin
solid-about = about { PERCENT($solid_percent) } solid
solid-at-most = at most { PERCENT($most_percent) } solid
picture-jar = jar { $range }
from-to = { $from } to { $to }
picture-skin = skin { $at }
picture-label = Temperatures and the melting of the recipe
room-at = { TEMP($at_c) }, room
axis-solid = { PERCENT($level_percent) } solid
axis-strength = { PERCENT($level_percent) } strength
strip-holds = holds to { TEMP($at_c) }
strip-slack = slack
strip-liquid = liquid
mark-softens = softens { TEMP($at_c) }
mark-clear = clear { TEMP($at_c) }
mark-softens-and-clear = softens and clear { TEMP($at_c) }
margin-room = { TEMPDIFF($room_k, digits: 1) } to spare
margin-short = { TEMPDIFF($short_k, digits: 1) } short
margin-just-holds = just holds
margin-just-short = just short
margin-never = never holds its shape
holds-above = holds above this
show-solid = % solid
curve-reading = { $at }: { $feel }; { $of ->
    [solid] { PERCENT($figure_percent) } solid
   *[holding] strength { PERCENT($figure_percent) }, needs { PERCENT($least_percent) }
}
curve-reading-compared = { curve-reading }, before { PERCENT($before_percent) }
read-the-curve = Read the curve at a temperature
curve-not-read = Not read yet: use the arrow keys
storage-coldest = Coldest storage
storage-hottest = Hottest storage
file-name = body butter
recipe = Recipe
recipe-name = Name of the recipe
name-it = Name it
add-an-ingredient = Add an ingredient
paste-a-recipe = Paste a recipe
line-percent = { TEXT($name) }, percent
leave-alone = A rework keeps it as it is
own-lot = My own lot of it
change-what-it-is = Change what it is
remove-line = Remove { TEXT($name) }
bound-least = In a rework, at least
bound-most = In a rework, at most
bounds-crossed = At least { PERCENT($least_percent, digits: 1, unit: "none") } is more than at most { PERCENT($most_percent, digits: 1) }.
bounds-of = Bounds of { TEXT($name) }
total-to-go = { PERCENT($missing_percent, digits: 2) } to go.
total-too-much = { PERCENT($extra_percent, digits: 2) } too much.
total = Total
climate-unheated = unheated room
climate-mild = home, mild
climate-summer = summer room
climate-hot = hot room
climate-shed = shed, parcel
storage-crossed = The coldest is above the hottest: swap them.
climate = The jar and where it lives
sold-as = Sold as
format-whipped = Whipped
format-pot = Pot
format-bar = Bar
format-stick = Stick
firmer-for-format = { $format }: “{ $from }” would be too soft to keep its shape, so “{ $to }” is asked for.
ready-ranges = Ready ranges
skin = Skin
skin-and-pack = Skin { $at }, and the pack
skin-and-this-pack = Skin { $at }, { $pack }
packed-not-said = not said
packed-jar = plastic jar
packed-glass-jar = glass jar
packed-tin = tin
packed-tube = tube
packed-paper-tube = paper tube
packed-wrap = wrap or paper box
packed-in = Packed in
wish-soft = Soft
wish-scoopable = Scoopable
wish-firm = Firm
wish-hard = Hard
wish-any = Any
wish-melts = Melts
wish-lingers = Lingers
wish-stays = Stays
hint-soft = spreads at a touch
hint-scoopable = scoops and spreads
hint-firm = needs pressing
hint-hard = must be rubbed
hint-melts = at once
hint-lingers = keeps some body
hint-stays = as a film
feel = What it should be
at-room-temperature = At room temperature
at-coldest = coldest
at-room = room
at-hottest = hottest
at-skin = skin
at-coldest-storage = coldest storage
at-hottest-storage = hottest storage
before = Before
after = After
now = Now
picture-as-table = The picture as a table
melting-points = Melting points
point = Point
point-softens = Softens: the jar stops holding its shape
point-slip = Slip point: a column of it starts to slide
point-clear = Clear point: the last solid goes
solid-fat-content = Solid fat content, ± { PERCENT($band_percent) }
of-solids = solid fat content
at = At
what-it-is-like = What it is like
of-firmness = firmness
firmness = Firmness
structure = Strength
weeps = Weeps
left-on-skin = Left on skin: { PERCENT($waxy_percent, digits: 1) } solid, felt as waxy from about 3.5 %; { PERCENT($oily_percent, digits: 1) } oil, felt until it is rubbed in.
where-from-aside = : where does this come from?
where-from-of = Where this comes from: { $what }
where-from = Where does this come from?
all-sources = All figures and sources
kind-plain = plain fats
kind-lauric = recipes with lauric fats
kind-wax = recipes with wax
kind-fatty-acids = whole fats from their fatty acids alone
kind-fatty-acids-and-slip = whole fats from their fatty acids and slip point
of-slip-point = slip point
of-melting-range = melting range
sources = Where do these figures come from?
sources-hint = Each with its band, and the source of both
of-the-ingredients = Of the ingredients
liquid-throughout = liquid throughout
solid-at = { PERCENT($solid_percent, digits: 1, unit: "none") } ± { PERCENT($band_percent, digits: 1) } at { $at }
firm-at = { PERCENT($structure_percent) } ({ PERCENT($low_percent, unit: "none") } to { PERCENT($high_percent, unit: "none") }: { $words }) at { $at }
title-solid = Solid fat content: { $coldest }; { $hottest }; { $skin }
title-slip = Slip point: { $at }
title-clear = Clear point: { $at }
title-softens = Softens: { $at }
title-firmness = Firmness: { $coldest }; { $usual }; { $hottest }
title-skin = On skin: { PERCENT($solid_percent, digits: 1, unit: "none") } ± { PERCENT($band_percent, digits: 1) } stays solid
title-fresh = Fresh: { $fresh }, settled { $settled }
title-making = Making: melt-out { $melt_out }
title-whipping = { title-making }, whip from { $from } to { $to }
title-rework = Reworks, rescues and seasons
title-jars = Jars and cost
title-hardeners = Hardeners, dose by dose
title-heat = In the heat
never-holds = it never holds its shape
as-you-described = As you described it.
by-supplier = Supplier or pharmacopoeia, { $kind }: { $at }.
usually-at-most = Usually at most { PERCENT($ceiling_percent, digits: 1) }.

## The page: reworks

find-rework = Find a rework
find-rescue = Find a rescue
find-both = Find both
held = What would hold
held-at = To hold at { TEMP($at_c, digits: 1) }
held-as-it-is = At { TEMP($at_c, digits: 1) } nothing needs to change.
held-nearest = Nearest at { TEMP($at_c, digits: 1) }
held-none-nearer = At { TEMP($at_c, digits: 1) } no change comes nearer to your wishes.
held-batches = About { NUMBER($batches) } in { NUMBER($some) } { $batches ->
    [one] holds
   *[other] hold
}.
held-nearly-every = Nearly every batch holds.
held-hardly-any = Hardly any batch holds.
promise-rework = The smallest change that holds in your heat and still feels right.
promise-rescue = Nothing can be taken out: the least to melt in, so that it is as you want it.
promise-seasons = A summer and a winter version, as alike as they can be.
wish-holds-at-hottest = to keep its shape at the hottest
wish-firm-enough-at-hottest = to stay firm enough at the hottest
wish-firmness-at-usual = for that firmness at room temperature
wish-soft-enough-at-coldest = to stay soft enough at the coldest
wish-on-skin = for what it does on skin
what-for = What for
for-next-batch = Next batch
for-rescue = Rescue a batch
for-seasons = Two seasons
searching = Searching
looking = Trying every way…
looking-so-far = Trying every way: { PERCENT($done_percent) }…
would-do = This would do; a smaller change may yet turn up:
stop-and-take = Stop, and take this
answers = { $count ->
    [0] No answer
    [one] One answer
   *[other] { NUMBER($count) } answers
}.
answers-stale = The bench has changed since: these answers are for what it was.
both-seasons = Summer and winter
answers-used = One of these is on the bench now; another may take its place.
on-the-bench-now = On the bench
other-answers = Other answers
of-answers = these answers
would-help = What would help
at-most-so-surely = That is in { $surety ->
    [even] 1 batch of 2
    [sure] 9 batches of 10
   *[likely] 3 batches of 4
}, with what is in your pantry.
nearest-to-it = The nearest to it
way-cooler = Keep it at { TEMP($to_c, digits: 1) } or cooler
way-cooler-any-firmness = Keep it at { TEMP($to_c, digits: 1) } or cooler, as firm as it comes
way-cooler-any-feel = Keep it at { TEMP($to_c, digits: 1) } or cooler, however it feels
way-any-firmness = Let it be as firm as it comes
way-any-feel = Let it feel as it comes
way-whipped = Make it a whipped butter
way-pot = Pour it in pots instead
way-bar = Make it a bar
way-stick = Make it a stick
nothing-to-change = Nothing needs to change
nothing-to-add = Nothing needs to be added
room-to-spare = It has { TEMPDIFF($room_k) } to spare.
melt-first = Melt first, in a water bath:
then-the-batch = Then add the batch, { $batch }, and warm both until all is clear.
why-not-these = Why not the rest of the pantry?
alone-no-help = no amount of it alone brings the batch nearer.
alone-would-do = { $amount } of it alone would do, too.
alone-falls-short = alone it falls short, even with { $amount }.
alone-why = Why: { TEXT($why) }.
alone-not-so-surely = It holds in fewer batches than you want.
weighs-then = Together they weigh { $whole }.
lifted-wax = With { PERCENT($percent, digits: 1) } wax
lifted-fatty-acid = With { PERCENT($percent, digits: 1) } fatty acid
lifted-fatty-alcohol = With { PERCENT($percent, digits: 1) } fatty alcohol
lifted-powder = With { PERCENT($percent, digits: 1) } powder
lifted-changes = If { NUMBER($count) } ingredients may change
lifted-lead = If another butter may be the main one
lifted-locked = If { $name } may change
lifted-bounds = Without the least and most you set for { $name }
lifted-pantry = With something more in the pantry
lifted-step = Weighed in steps of { PERCENT($percent, digits: 1) }
body-butter = Body butter
both-kept = Both versions are on the shelf, by name.
both-not-kept = This browser keeps nothing for the page: use one, and share its link.
ingredient = Ingredient
keep-both = Keep both on the shelf
summer = Summer
winter = Winter
summer-version = { TEXT($name) }, summer
winter-version = { TEXT($name) }, winter
if-gives = Do without the wish { $wishes }
meets-the-rest = Meets the other wishes
and-joins = {", and "}
nearest-now = As near as can be to how it is now
meets-all = Meets every wish
misses = Not all you asked for:
answer = Answer { NUMBER($number) }
a-weight = { $unit ->
    [lb] a pound
   *[kg] a kilogram
}
answer-costs = Costs { $price } { a-weight }, { $jar } a jar.
answer-costs-more = Costs { $price } { a-weight }, { $jar } a jar, and what has no price yet.
costs-as-now = As much as now.
costs-more = That is { $price } more { a-weight } than now.
costs-less = That is { $price } less { a-weight } than now.
in-words = Why it works
shown = In the picture
show-it = See the picture
use-this = Use this
share-answer = Share answer { NUMBER($number) }
print = Print
amount-of-it = { MASS($amount_g) } of { NAME($id) }
made = What was made
made-used = Used or lost since
made-used-all = That is all of it: give less than was made.
other-season = One season is where the jar lives, { $from } to { $to }. In the other:
other-coldest = Coldest then
other-hottest = Hottest then
refused-palm = palm
without = Without { $names }
leave-out-or-replace = Leave out or replace
none-of = None of
out-of-stock = Out of stock
replacement-aim = What replaces it should make the butter
aim-wishes = as wished above
aim-now = as it is now
limits = What may change
most-wax = Most wax
most-fatty-acid = Most fatty acid
most-fatty-alcohol = Most fatty alcohol
most-powder = Most powder
most-lines = How many ingredients may change
scale-step = Weigh in steps of
surety = How sure must you be that it holds?
surety-even = 1 batch in 2
surety-likely = 3 in 4
surety-sure = 9 in 10
surety-quarter = 1 in 4
surety-less = under 1 in 4
ladder-ask = What would it take to be surer?
ladder-title = What it takes to be surer
ladder-hint = The smallest change for each chance. Tap one to take it.
ladder-as-it-is = as it is
ladder-shift = { PERCENT($shift_percent) } of it
ladder-change = { NAME($id) } { NUMBER($from, digits: 1) } → { PERCENT($to_percent, digits: 1) }
ladder-ends = Nothing in your pantry makes it surer. Cooler storage, another format, or more wax would.
wax-towards-balm = From 5 % wax on a butter turns towards a balm.
keep-lead = The main butter stays the main one
may-be-added = What may be added
pantry-summary = Pantry: { $count ->
    [0] nothing may be added
    [one] one thing may be added
   *[other] { NUMBER($count) } things may be added
}
at-most-of = At most, %, of { TEXT($name) }
at-most-short = at most
search-pantry = Search for more for the pantry
search-for-more = More for the pantry
nothing-else = Nothing else by that name.
stopped-early = Stopped early: a smaller change may do.
winter-on-bench = The winter version is on the bench.
summer-on-bench = The summer version is on the bench.
rescue-on-bench = The batch as it becomes is on the bench: { $what } melted in.
rework-on-bench = Now on the bench: { $what }.

## The page: making it

mind-floor = Butter on a wet floor is slippery: in a bath or shower use little, rinse the floor, and warn whoever you give it to.
mind-water = No water, honey, aloe gel or fresh plant goes into it: without a preservative they spoil it. Keep wet fingers out of the jar.
mind-skin = Try a little on the inside of the elbow for a day before using it all over, and stop if it itches or reddens.
mind-claims = It is a cosmetic: it heals nothing and shields from no sun, and must not be sold as if it did.
mind-label = What a label must say, and whether you must register before you sell, differs by country: ask your local authority.
mind-dust = Weigh fine powders slowly, and do not breathe in their dust.
mind-perfume = how much skin bears differs widely (cinnamon bark and clove far less than lavender), and cold-pressed citrus oils burn skin in the sun. Keep to the IFRA certificate of yours, and to what a doctor or midwife says for children and in pregnancy.
mind = Take care
in-this-recipe = In this recipe
allergens-not-known = not known
ask-supplier = { $names }. Ask the supplier what it comes from.
mind-hot = Hot fat and wax
mind-use = Skin, water, floors, labels
mind-allergens = Allergens listed here are those of the plant or animal an ingredient comes from; suppliers know what else their lot holds.
making = Making it
of-making = these temperatures
of-fresh = what it is like fresh
show-fresh = Show it fresh in the picture
signs = Signs of trouble in this climate
weigh = Weigh it
batch = Batch
fills = Fills { $jars ->
    [one] one jar
   *[other] { NUMBER($jars) } jars
} of { VOLUME($each_ml) }, { MASS($jar_g, digits: 1) } each; { MASS($left_g, digits: 1) } left over.
stays-in-bowl = { MASS($lost_g, digits: 1) } stays in the bowl.
weigh-by = How much
by-weight = By weight
by-jars = By jars
jars-to-fill = Jars to fill
lost-percent = Stays in the bowl
of-jars = jars and cost
make-waits = The recipe adds up to { PERCENT($sum_percent, digits: 2) }. Once it is 100 %, its weights, label and steps stand here.
sheet-waits = This recipe cannot be made as it stands: it waits on the bench until it adds up to 100 %.
weights-wait = Once the recipe is at 100 %, its weights stand here.
jars-and-prices = Jars, air and prices
jar = Jar
overrun = Air whipped in
price-per-weight = Price of { a-weight }, in your currency
prices-hint = With prices, each rework says what it costs. They are kept with the recipe, and its link carries them.
label-list = List for the label
print-sheet = Print the bench sheet
batch-costs = Costs { $total }: { $price } { a-weight }, { $jar } a jar.
batch-costs-partly = Costs { $total }: { $price } { a-weight }, { $jar } a jar, without what has no price yet.
price-problem = Write a price like 12.50.
sheet-rescue = { TEXT($name) }: rescue
sheet-melt-in = Melt in this order
sheet-weight = Weight
sheet-lot = Lot
sheet-batch = the batch that is there
weigh-rescue = Your batch, and what to melt into it:
your-batch = Your batch
weigh-new-batch = Weigh a new batch instead
scale-is-coarse = Too little of something for your scale
sheet-storage = Storage
sheet-jars = Jars
sheet-cost = Cost
sheet-date = Date, maker
sheet-batch-lot = Batch lot
sheet-softens = Softens
sheet-slip = Slip point
sheet-clear = Clear point
sheet-melt-out = Melt-out
sheet-fills = { NUMBER($jars) } of { VOLUME($each_ml) }, { MASS($jar_g, digits: 1) } each
melting-order = Melt in a water bath, in this order: { $names }.
stirred-in = Once it has cooled, just before it clouds, stir in: { $names }. Powders are sifted in and kept moving, or they sink; perfume waits until it is cooler than its flash point.
stirred-in-already = In the batch already, so add no more of it: { $names }. Go on stirring while it cools, or powders sink; the heat takes some of the scent.
sheet-allergens = In it: { $groups }.
sheet-unknown = Allergens not known of { $names }: ask the supplier.
sheet-notes = Notes

## The page: heat, trouble, teaching

way-mailbox = Parcel box in the sun
way-delivery-van = Delivery van
way-parked-car-shade = Car in the shade
way-parked-car-sun = Car in the sun
way-sea-container = Sea container
way-dashboard = On a car's dashboard
way-constant = One temperature of your own
way-list = Temperatures of your own, by the hour
none = None
heat = On its way in the heat
heat-hint = A parcel box, a van, a car in the sun: how a packed butter fares
way = Where
each-holds = Each holds
foam = Foam around it
foam-of = { LENGTH($foam_mm) }
cold-packs = Cold packs in the box
following = Following it on its way
way-air = Air
way-for = For
course = An hour and its { $unit } a line, hours rising
course-too-short = Give at least two lines, each an hour and a temperature, such as 0 20 and 6 38.
not-hour-and-degrees = “{ TEXT($line) }” is not an hour and a temperature: write it like 6 38.
course-falls = The hours must rise from line to line.
packed-better = The same, better packed
packed-with = With
slumps-after = Slumps after
lost = Lost
its-middle = Its middle
slack = Slack
never = never
of-heat = how it fares in the heat
chart-as-table = The chart as a table
assumed = What is assumed
heat-chart = Air, the middle of the butter, and how much of it is slack, over { NUMBER($hours) } hours
key-middle = its middle
key-air = the air
key-slack = slack
trouble = What went wrong?
last-batch = The last batch
choose-sign = Choose what you saw…
own-words = Or in your own words
own-words-example = it went grainy after a hot week
about-example = This is about a worked example, not your butter.
about-recipe = About { TEXT($name) }.
line-of-recipe = { TEXT($name) } { PERCENT($line_percent, digits: 1) }
paste-yours = Paste your recipe
paste-another = Paste another
words-hold-recipe = You wrote down { NUMBER($count) } ingredients.
look-at-it = Take them as the recipe
words-unclear = Say it in other words, or choose above what you saw: grainy, oil on top, runny, hard, waxy, greasy…
how-hot = To hold up to
how-much = How much there is
why-and-more = Why, and what else helps
see-on-its-way = { $way ->
    [delivery-van] See how it fares in a van
    [mailbox] See how it fares in the post
    [sea-container] See how it fares in a sea container
    [dashboard] See how it fares on a dashboard
   *[other] See how it fares in a car
}
find-rework-for = Next batch, for { $from } to { $to }
rescue-the-batch = Rescue the batch for { $from } to { $to }
figure-softens = Softens: { $format ->
    [whipped] the whip
   *[other] the shape
} is kept up to here
figure-clear = Clear
figure-slip = Slip
figure-hot = Hot
figure-structure = Strength at room temperature
figure-hottest = Solid at the hottest storage
figure-skin = Left solid on skin
teach = How a hardener moves the melting point
teach-hint = Dose by dose, in the recipe on the bench
each-alone = Each is added alone to the recipe on the bench.
takes-place-of = It takes the place of
swap-oil = The oil
swap-all = Everything
hint-swap-oil = liquid oils give way
hint-swap-all = all give way in proportion
show = Show
working-out-doses = Working out every dose
dose = Dose: { PERCENT($dose_percent) }
dose-short = { PERCENT($dose_percent) }
dose-of-hardener = Dose of the hardener
dose-axis = dose of the hardener, %
dose-column = Dose, %
dose-takes-oil = Each hardener alone, in the place of the oil.
dose-takes-all = Each hardener alone, in the place of everything else.
holds-when-hottest = hottest jar, { TEMP($hottest_c, digits: 1) }: holds above this
hottest-short = hottest jar, { TEMP($hottest_c, digits: 1) }
follow-by-code = Follow on your phone
class-pot = Grams for a pot of { NUMBER($whole) } g
class-pot-dose = dose { PERCENT($dose_percent) }
class-measured = What we measured
measured-by = Measured by
figures-at-dose = Figures at one dose
of-figures = these figures
at-dose = All figures at { PERCENT($dose_percent) }
why-so = Why lines are flat, dip or end
hardener = Hardener
figure-room = Room
no-more-to-replace = no more to replace
nothing-to-replace = There is nothing else in this recipe that could give way.
no-oil-so-all = No oil in it to give way: everything does, in proportion.
stage-recipe-oil = { $lines }. { stage-kept }. Hardener instead of oil.
stage-recipe-all = { $lines }. { stage-kept }. Hardener instead of everything.
stage-kept = { $format ->
    [whipped] Whipped
    [bar] Bar
    [stick] Stick
   *[other] Pot
}, { $from } to { $to }
stops-here = { $name }: no longer a butter from { PERCENT($dose_percent) }
named-note = { $name }: { $note }
figure-at-dose = at { PERCENT($dose_percent) }: { $figure }
oil-ends = { PERCENT($most_percent, digits: 1) }: the oil ends
all-ends = { PERCENT($most_percent, digits: 1) }: nothing else is left
stops-from = , from { PERCENT($dose_percent) }:
share-picture = Share this picture
print-it = Print it
fill-screen = Fill the screen
leave-out = Leave out { TEXT($name) }
add-hardener = Add a hardener
add-one = Add one…
dose-chart = { $figure } against dose; the table below has the figures

## The page: the notebook of own lots

notebook = Notebook
notebook-empty = Two jars of one butter can melt degrees apart. Write down what yours does, and the page can go by your jar.
notebook-hint = What it did and how warm it was is enough. It stays on this device.
notebook-not-kept = This browser does not keep the notebook: save everything as a file before you leave.
kept-notebook = A part of the notebook
kept-note-draft = An entry that was begun in the notebook
backup-notebook = the notebook: { NUMBER($count) } { $count ->
    [one] entry
   *[other] entries
} of { NUMBER($lots) } { $lots ->
    [one] lot
   *[other] lots
}
keep-in-notebook = Keep it in the notebook

write-down = Write down what you saw
which-pot = What was it made of?
pot-of-bench = What is on the bench
pot-pure = One alone
pot-other = Another
pot-of-which = Which one?
pot-add-line = Add a line
pot-alone = { TEXT($name) } alone
from-which-jar = Which jar of { TEXT($name) }
jar-new = a new jar of my own
jar-any = any jar
jar-from-link = { TEXT($name) } (from the link)
lot-of-day = { TEXT($name) }, { $day }
what-did-it-do = What did it do?
seen-slumped = Went slack
seen-held = Held overnight
seen-slipped = Moved up in a thin tube
seen-clear = Melted clear
seen-firmness = Was soft, firm, hard…
seen-oil-on-top = Oil on top
seen-film = Still a film after a minute
seen-melts-away = Melted away on skin
seen-solid = A laboratory measured its solid fat
choose = Choose…
how-firm = How firm?
how-much-solid = How much was solid, %
how-warm = How warm was it, { $unit }
how-warm-skin = Skin, { $unit } (leave it empty if you do not know)
days-after = How old it was, days
days-after-hint = Leave it empty if it had settled for days. Younger than 2 days counts as fresh.
read-by = Read with
by-kitchen = a kitchen thermometer
by-probe = a probe
by-room-guess = a guess
note-usual = Unless you say otherwise:
usual-bench = the recipe on the bench
usual-none = nothing chosen yet
usual-settled = settled for days
usual-days = { TEXT($days) } days old
usual-today = seen today
pot-is = It was
pot-is-pot = in a jar
pot-is-whipped = whipped
pot-is-bar = a bar
pot-is-stick = a stick
which-thermometer = Which thermometer
which-thermometer-hint = If you have several: each reads wrong in its own way.
pot-name = Name of the pot
pot-name-hint = Several looks at one pot belong together. Without a name, pots of one recipe are one.
which-day = Day
keep-look = Keep it
keep-change = Keep the change
do-not-keep = Do not keep it
which-draft = Another tab of this page is writing an entry too. Which one is kept while it is written?
other-draft-is-here = What the other tab is writing is here too.
entry-changed-elsewhere = This entry has been changed since you began. Keep both, or yours in its place?
keep-both-entries = Keep both
keep-mine = Keep mine
draft-gone = What you began is put away.
say-what-was-seen = What it did is not said: choose one.
say-how-firm = How firm it was is not said: choose one.
say-how-warm = How warm it was is not said: write it in { $unit }, as you read it.
say-which-day = The day is not said: choose one.
say-which-pot = What it was made of is not said: add a line.
own-not-in-notebook = The notebook cannot learn from { NAMES($ids) }, which you described yourself: how jars of it differ is not known. Choose “One alone” or “Another”.
own-not-among-these = Ingredients that you described yourself are not among these: the notebook cannot learn from them.
note-problems = { $count ->
    [one] One thing is
   *[other] { NUMBER($count) } things are
} to be put right above. Nothing you typed is lost.
look-kept = It is in the notebook.
look-changed = The change is in the notebook.
look-dropped = The entry is out of the notebook.
lot-dropped = “{ TEXT($name) }” is out of the notebook, with { NUMBER($count) } { $count ->
    [one] entry
   *[other] entries
} of it.
lot-renamed = It is called “{ TEXT($name) }” now.
lot-dated = “{ TEXT($name) }” has that day now.

taught = What it taught
learning = Working out what that says…
lot-learned = { $looks ->
    [one] Learned from one entry
   *[other] Learned from { NUMBER($looks) } entries
}
lot-surer = unsure by ±{ TEMPDIFF($now_k, digits: 1) } instead of ±{ TEMPDIFF($before_k, digits: 1) }
lot-as-unsure = still unsure by ±{ TEMPDIFF($before_k, digits: 1) }
lot-melts-lower = { lot-learned }: it melts { TEMPDIFF($moved_k, digits: 1) } lower than typical; { $unsure }.
lot-melts-higher = { lot-learned }: it melts { TEMPDIFF($moved_k, digits: 1) } higher than typical; { $unsure }.
lot-as-typical = { lot-learned }: it melts as is typical; { $unsure }.
lot-little = { lot-learned }, next to nothing: it is still unsure by ±{ TEMPDIFF($before_k, digits: 1) }.
lot-too-far-lower = { lot-learned }: it would melt { TEMPDIFF($moved_k, digits: 1) } lower than typical. Jars never differ so much, so do not go by it: measure again, and see that it is what its label says.
lot-too-far-higher = { lot-learned }: it would melt { TEMPDIFF($moved_k, digits: 1) } higher than typical. Jars never differ so much, so do not go by it: measure again, and see that it is what its label says.
lot-disputed = { $looks ->
    [one] The entry of it disagrees with others
   *[other] The { NUMBER($looks) } entries of it disagree
}: nothing is learned from them until one is measured again or left out.
lot-some-disputed = { $looks ->
    [one] One more entry of it disagrees with others, and is not learned from
   *[other] { NUMBER($looks) } more entries of it disagree, and are not learned from
} until one is measured again or left out.
lot-nothing-seen = Nothing you saw of it counts yet: it is taken as typical, unsure by ±{ TEMPDIFF($before_k, digits: 1) }.
lot-as-sent = Taken as the link told of it, unsure by ±{ TEMPDIFF($before_k, digits: 1) }. Nothing you saw of it counts yet.
lot-no-slip = { lot-learned }. It has no melting point of its own to tell.
lot-in-use = In this recipe
lot-take = Use it in this recipe
lot-bring-up = Use what is known now
lot-put-on-shelf = Let reworks use it
lot-leave = Go back to a typical jar
lot-link = A link carries what is known of each lot; how two lots go together is left out.
lot-more = Name, day, or throw away: { TEXT($name) }
lot-name = Its name
lot-day = Since
lot-drop = Throw away { TEXT($name) } and its entries
lot-taken = “{ TEXT($name) }” is in the recipe.
lot-on-shelf = “{ TEXT($name) }” stands in the recipe with 0 %: a rework may use it.
lot-left = The recipe is of typical jars again.
lots-kept = They are in the notebook.
lots-not-noted = Not in your notebook: { NAMES($ids) }, of the recipe on the bench.
keep-lots = Keep it in my notebook
link-has-lots = The recipe is of somebody’s own lots: { NAMES($ids) }.
of-a-lot = { $class }, my lot
take-lot-of = Use { TEXT($name) }
of-this-recipe = { TEXT($name) }
of-any-lots = With typical jars
of-own-lots = With your jars
jars-in-use = Verdict, picture and reworks go by your jars: { TEXT($names) }.
jars-not-in-use = Verdict, picture and reworks still go by typical jars, not by yours.
jars-partly-in-use = Verdict, picture and reworks go by { TEXT($names) }. What else you know of your jars they do not use yet.
jars-take = Use my jars in this recipe
jars-leave = Go back to typical jars
jars-taken = The recipe goes by your jars now.
softens-at = softens at { TEMP($at_c) }
softens-within = softens at { TEMP($at_c) } ({ TEMP($from_c, unit: "none") } to { TEMP($to_c) })
softens-never = never sets
show-both-curves = Show both curves
both-curves = What keeps the shape, over temperature. With typical jars it { $any }; with yours it { $own }.
compare-reworks = Compare the reworks
seeking-both = Looking for the rework of either
reworks-smaller = With your jars it is smaller: { PERCENT($own_percent, digits: 1) } of the recipe moves, instead of { PERCENT($any_percent, digits: 1) }.
reworks-larger = With your jars it is larger: { PERCENT($own_percent, digits: 1) } of the recipe moves, instead of { PERCENT($any_percent, digits: 1) }.
reworks-alike = It is the same size either way: { PERCENT($own_percent, digits: 1) } of the recipe moves.
reworks-none-needed = Neither needs a rework.
reworks-neither = With neither, a rework within the limits does all that is asked.
reworks-only-own = Only with your jars a rework does all that is asked: { PERCENT($own_percent, digits: 1) } of the recipe moves.
reworks-only-any = With your jars no rework within the limits does all that is asked.
looks = What you saw
look-slumped = Went slack at { TEMP($at_c, digits: 1) }
look-held = Held overnight at { TEMP($at_c, digits: 1) }
look-slipped = Moved up in a thin tube at { TEMP($at_c, digits: 1) }
look-clear = Melted clear at { TEMP($at_c, digits: 1) }
look-firmness = “{ $class }” at { TEMP($at_c, digits: 1) }
look-oil-on-top = Oil on top at { TEMP($at_c, digits: 1) }
look-film = Still a film after a minute on skin of { TEMP($at_c, digits: 1) }
look-melts-away = Melted away on skin of { TEMP($at_c, digits: 1) }
look-solid = { PERCENT($solid_percent, digits: 1) } solid at { TEMP($at_c, digits: 1) }
after-days = after { NUMBER($days, digits: 1) } { $days ->
    [one] day
   *[other] days
}
look-more = Change it
look-drop = Throw it away
look-fits = Fits the rest.
look-as-typical = As such jars are. There is no other entry yet to compare it with.
look-unusual = Unusual, but possible: of such jars one expects about { TEMP($expected_c) }, give or take { TEMPDIFF($within_k, digits: 1) }. There is no other entry yet to compare it with.
look-cannot-be = Too far off to learn from, so it is left out: of such jars one expects about { TEMP($expected_c) }, give or take { TEMPDIFF($within_k, digits: 1) }.
look-disputed = It disagrees with others, and which is wrong is open: nothing is learned from them until one is measured again or left out.
look-is-insisted-alone = You keep it, though of such jars one expects about { TEMP($expected_c) }, give or take { TEMPDIFF($within_k, digits: 1) }.
look-strained = Fits the rest only just: by that, about { TEMP($expected_c) }, give or take { TEMPDIFF($within_k, digits: 1) }.
look-does-not-fit = Does not fit the rest, and is left out: by that, about { TEMP($expected_c) }, give or take { TEMPDIFF($within_k, digits: 1) }.
look-is-out = You left it out.
look-is-insisted = You keep it, whatever the rest says: by that, about { TEMP($expected_c) }, give or take { TEMPDIFF($within_k, digits: 1) }.
look-against = It cannot be true beside “{ $look }”.
because-not-settled = Perhaps it had not settled yet.
because-thermometer = Perhaps the thermometer was off.
because-another-lot = Perhaps it was of another jar.
look-left-out = It is left out.
look-counts-again = It counts again.
look-insisted = It counts, whatever the rest says.
look-not-insisted = It counts as long as it fits the rest.
leave-it-out-of-learning = Leave it out
count-it-again = Count it again
keep-it-all-the-same = Keep it all the same
insist-no-more = Only if it fits
thermometers = What your thermometers read
reads-high = { TEXT($name) }: reads { TEMPDIFF($high_k, digits: 1) } too high, give or take { TEMPDIFF($left_k, digits: 1) }
reads-low = { TEXT($name) }: reads { TEMPDIFF($low_k, digits: 1) } too low, give or take { TEMPDIFF($left_k, digits: 1) }
nine-in-ten = ±, ranges and “give or take” hold nine times in ten.

next-pot = The next test pot
next-pot-hint = Which small pot tells most about this recipe
bath-tells-most = A thin tube in a warming water bath tells most by far. See “How to look”.
spot-bath = I can warm a thin tube in a water bath
spot-fridge = Fridge
spot-room = Room
spot-warm = Warm spot
spot-at = { $spot }, how warm
pot-weighs = A pot weighs
plan-needs-recipe = The recipe on the bench must add up to 100 %, of ingredients in the list, to plan for it.
plan-pot = Which pot next?
planning = Trying out pots
plan-nothing = No pot would tell more. Add a place to keep one, or a water bath.
plan-enough = Another pot will not tell more: where this recipe softens is unsure by ±{ TEMPDIFF($now_k, digits: 1) } by its jars, and no pot takes off as much as { TEMPDIFF(0.1, digits: 1) }.
make-this-first = Make this one
plan-tells = It is expected to tell where this recipe softens: the part due to jars is unsure by ±{ TEMPDIFF($now_k, digits: 1) } now, and by ±{ TEMPDIFF($left_k, digits: 1) } after it.
and-then = And after that, perhaps
one-by-one = Make one, write down what it did, and ask again: that tells far more than several at once.
print-pot = Print its sheet
write-what-it-did = Write down what it did
look-for-slip = Look for: where it moves up in a thin tube, in a warming water bath.
look-for-hold = Look for: whether it holds its shape overnight at { TEMP($at_c, digits: 1) }.
expect-slip = Expected at about { TEMP($expected_c) }, give or take { TEMPDIFF($within_k, digits: 1) }.
expect-hold = Expected to hold in { PERCENT($holds_percent) } of cases, and to soften at about { TEMP($expected_c) }, give or take { TEMPDIFF($within_k, digits: 1) }.
pot-sheet = A test pot
write-what-you-see = Write down what you see, also if it is something else.
code-opens-notebook = This code opens the notebook, ready to be filled in.
blank-day = Day
blank-made = Made on
blank-temperature = Temperature, { $unit }
blank-seen = What it did
blank-thermometer = Thermometer

series = A ratio series
series-hint = One butter with ever more of one hardener: which doses a class should make
series-link = Which doses should a class make?
series-butter = Butter
series-hardener = Hardener
series-jar = Goes by your jar “{ TEXT($name) }”.
series-most = Largest dose
series-doses = How many pots
series-plan = Which doses?
series-planning = Choosing doses
series-make = Make these
series-tells = Where the whole series slips is unsure by ±{ TEMPDIFF($now_k, digits: 1) } by its jars. After these pots it is ±{ TEMPDIFF($left_k, digits: 1) }; as many evenly spaced ones would leave ±{ TEMPDIFF($evenly_k, digits: 1) }.
series-expected = Slips, { $unit }
series-most-telling = * tells most: if there is time for one, make this.
series-scale = Weigh the hardener on a scale that shows hundredths of a gram.
series-write = What the class reads of { TEXT($name) } alone can go into the notebook; so can each dose, as “Another”.
series-of = { TEXT($hardener) } in { TEXT($butter) }: a ratio series
series-tube = Tube { NUMBER($number) }
series-feels = How it feels
series-step-melt = Weigh each pot, label it with its dose, melt it fully in a water bath and stir until it is clear.
series-mind-class = In a class one grown-up stays at the water bath, sleeves rolled up, hair tied back.

how-to-look = How to look
how-to-look-hint = Three short pages for a kitchen
print-page = Print this page
you-need = You need
do-this = Do this
tube-title = A thin tube in a water bath
tube-thing-tube = a thin clear tube, open at both ends, { LENGTH(1, unit: "none") } to { LENGTH(2) } wide and a finger long: glass, or clear plastic
tube-thing-thermometer = a thermometer that goes into water
tube-thing-bath = a tall glass of water in a pan of water on the hob
tube-thing-band = two small rubber bands, a spoon, a cloth
tube-step-fill = Melt the butter fully. Dip the tube in, until it stands about { LENGTH(10) } high inside, and wipe the outside.
tube-step-settle = Let it set in the fridge, the tube lying flat, then keep it as long as the jar would settle: a week is good. Write down the days.
tube-step-tie = Tie the tube to the thermometer, so that the butter is beside its tip.
tube-step-hang = Hang both in the glass. The butter is well under water, the upper end of the tube above it. Begin { TEMPDIFF(10) } colder than you expect.
tube-step-warm = Warm the pan very gently, about { TEMPDIFF(1) } in two minutes, and keep stirring the water.
tube-step-read = Watch. As soon as the butter moves up in the tube, read the thermometer: that is where it slips.
tube-step-again = Do it twice more with fresh tubes, and write each down.
tube-stands = The principle is that of the open capillary slip point, AOCS Cc 3-25 and ISO 6321. This is a kitchen’s way, not the standard.
overnight-title = Held or slack overnight
overnight-thing-pot = a small cup or jar, { MASS(20) } of the butter, a teaspoon
overnight-thing-place = a place that stays as warm all night: a fridge, a cupboard, a cool box with a bottle of warm water
overnight-thing-thermometer = a thermometer
overnight-step-fill = Melt everything fully, cool it and fill the cup as you do your jars.
overnight-step-settle = Let it settle where it is cool: a week is good. Write down the days.
overnight-step-mark = Pull up a small peak with the spoon, or cut a straight edge.
overnight-step-keep = Put it in its place with the thermometer beside it. Leave it for { HOURS(8) } or more, and do not stir it.
overnight-step-read = Read the thermometer in the evening and in the morning. Write down the higher one.
overnight-step-write = The peak still has its edge: it held. It sank or ran flat: it went slack. Either tells something.
overnight-stands = Our own way, as kitchens do it (common practice).
clear-title = Where it melts clear
clear-thing-glass = a small clear glass with a spoonful of the butter
clear-thing-bath = a pan of water on the hob
clear-thing-thermometer = a thermometer that goes into the butter itself
clear-step-fill = Stand the glass in the pan, with a printed page behind it.
clear-step-warm = Warm it very gently, about { TEMPDIFF(1) } a minute near the end, and stir the butter with the thermometer.
clear-step-read = When the last haze is gone and the print is sharp, read the thermometer in the butter.
clear-step-again = Let it set and settle, and do it once more.
clear-stands = Our own way, as kitchens do it (common practice). Wax clears slowly: wait at each degree.
mind-bath = Hot water scalds. Keep the pan from the edge, and do not leave it alone.
mind-hot-fat = Hot fat sticks and burns. Melt in a water bath, never over a flame, and keep water out of hot fat.
mind-not-eaten = What was tested is not for eating, and not for sale. Keep these things apart from food.
mind-glass = A thin glass tube breaks: hold it in a cloth, away from your eyes, and sweep up splinters.
mind-warm-spot = No oven, no flame and no sunny sill: they get hotter than they look. Keep it from children and pets.
mind-slip = Wipe up drops at once: the floor gets slippery.
mind-powder = With powder or starch in it, it never gets clear: use another way.

## The page: the shelf, what is kept

settings = Units and this device
weights = Weights
grams = grams
ounces = ounces, fl oz
device-keeps-nothing = This browser keeps nothing for the page, so the recipe lives in the address only: share or bookmark it.
device-keeps = The recipe is kept on this device and in the address of the page. Nothing is sent anywhere.
back-to-example = Back to the worked example
install = Install this page
read-backup = Read a backup
backup-holds = “{ TEXT($file) }” holds:
backup-bench = the bench: { TEXT($name) }
unnamed-recipe = an unnamed recipe
backup-shelf = recipes on the shelf: { NUMBER($count) }
backup-own = own ingredients: { NUMBER($count) }
backup-prices = prices: { NUMBER($count) }
backup-refused = Of it, { NUMBER($count) } could not be read. They are set aside as they are.
backup-newer = A later version of this page wrote it: what this one does not know stays in the file only.
backup-add = Add what is not here
backup-replace = Replace everything here
backup-hint = Adding changes nothing that is here; the backup’s bench goes to the shelf. Either can be undone.
unnamed = Unnamed
backup-added = What was new in “{ TEXT($file) }” is on the shelf.
backup-replaced = Everything is as “{ TEXT($file) }” has it.
odd-entry = an entry is not what it should be
shelved-in-place = “{ TEXT($name) }” is on the shelf, in the place of the one called so.
shelved = “{ TEXT($name) }” is on the shelf.
not-shelved = This browser keeps nothing for the page: save the recipe as a file, or share its link.
off-the-shelf = “{ TEXT($name) }” is off the shelf.
shelf = Shelf and files
shelf-hint = Recipes kept by name, saved, opened, backed up
keep-recipe = Keep this recipe by its name
take-off-shelf = Take { TEXT($name) } off the shelf
save-as-file = Save as a file
save-recipe = Recipe (JSON)
save-curve = Curve (CSV)
save-svg = Picture (SVG)
save-png = Picture (PNG)
save-backup = Everything (backup)
open-file = Open a recipe or a backup
put-it-back = Put it back
on-the-bench = “{ TEXT($name) }” is on the bench.
set-aside = Set aside
set-aside-hint = This could not be read. It is as it was found.
save-aside = Save it as a file: { $place }
throw-aside-away = Throw away what was set aside: { $place }
not-ours = { $why ->
    [later] “{ TEXT($file) }” was saved by a later version of this page, and this one knows nothing of what is in it. Reload the page to update it, then open the file again.
    [too-large] “{ TEXT($file) }” is { NUMBER($size_mb, digits: 1) } MB large. No recipe or backup of this page is larger than { NUMBER($most_mb) } MB, so it was not opened.
    [no-recipe] “{ TEXT($file) }” is a recipe file of this page, but there is no recipe in it: it was changed or cut off.
   *[other] “{ TEXT($file) }” is neither a recipe nor a backup saved by this page.
}
the-file = “{ TEXT($file) }”
found-odd = { $odd } { $more ->
    [0] What
   *[other] So it is with { NUMBER($more) } more. What
} was kept is set aside, not lost: see “Shelf and files”.
save-it-as-file = Save it as a file
link-open-unkept = The link is open. This browser keeps nothing for the page: Undo brings back what was on the bench.
link-open = The link is open. What was on the bench is on the shelf as “{ TEXT($name) }”.
other-tab = Another tab of this page has put something else on the bench. This tab still shows its own.
show-the-other = Show the other
which-tab = Another tab of this page has put something else on the bench. Which one stays there? The other is kept on the shelf.
this-one = This one
the-other = The other
this-one-stays = This one stays.
this-one-stays-other-shelved = This one stays. The other is on the shelf as “{ TEXT($name) }”.
other-is-here = The other tab’s recipe is on the bench here too.
other-is-here-this-shelved = The other is on the bench. This one is on the shelf as “{ TEXT($name) }”.
odd-garbled = it is cut off or garbled
odd-kind = it is of another kind
odd-later = a later version of this page wrote it
odd-version = it does not say which version wrote it
odd-no-recipe = there is no recipe in it
odd-no-list = its list is missing
odd-preferences = these are not what they should be: { $names }
malformed-line = line { NUMBER($line) } of the recipe is not what it should be
malformed = { $part ->
    [recipe] its list of ingredients is not what it should be
    [limits] what a rework may do is not what it should be
    [storage_c] the climate is not what it should be
    [other_storage_c] the climate is not what it should be
    [prices] a price is not what it should be
    [picture] the teaching picture is not what it should be
    [journey] the way that it travels is not what it should be
   *[other] something in it is not what it should be
}
could-not-be-read = { $what } could not be read: { $why }.
kept-something = Something kept
kept-bench = The recipe that was on the bench
kept-shelf = A part of the shelf
kept-own = An own ingredient
kept-draft = An own ingredient that was begun
kept-settings = A part of the settings
kept-aside = What was set aside

## The page: what is added, pasted, and one’s own

in-the-recipe = in the recipe
enter-adds = Enter adds this
describe-your-own = Describe your own
describe-hint = from a certificate, a laboratory, or like another
search-by-name = Search by name or INCI name
search-example = Search: shea, Cera Alba, wax…
used-before = used before
did-you-mean = Nothing is called “{ TEXT($text) }”. Did you mean
ingredients-found = { $count ->
    [one] One ingredient
   *[other] { NUMBER($count) } ingredients
}
is-water = That is water, or mostly water: this is for water-free butters only.
nothing-by-that-name = Nothing by that name. Try a part of it, or its INCI name.
take-as-certificate = Take it as my own lot
open-the-link = Open the link
open-as-file = Open it as a file
pasted-file = pasted text
nearest-are = Nearest by name:
describe-it = Describe it myself
own-is-recipe = This reads as a recipe, not as a certificate of fatty acids.
take-as-recipe = Read it as a recipe
own-for-line = It takes the place of the pasted line “{ TEXT($text) }”.
unit-parts = parts
unit-tablespoons = tbsp
unit-teaspoons = tsp
unit-cups = cups
unit-drops = drops
left-note = no ingredient
left-total = a total
left-water = water
paste-melted = Paste what was in it; then you are told why it melted, and how to rescue the batch.
paste-text = A recipe from a chat, a table or a label, with amounts in any unit
pasted-on-bench = The pasted recipe is on the bench.
pasted-without = On the bench, without { $count ->
    [one] one line that waits
   *[other] { NUMBER($count) } lines that wait
} under the recipe.
all-percent = All these are percent
complete-lines = Complete { $count ->
    [one] the one line
   *[other] the { NUMBER($count) } lines
} first
put-without = Put { $count ->
    [one] one line
   *[other] { NUMBER($count) } lines
} on the bench, { $without ->
    [one] one waits
   *[other] { NUMBER($without) } wait
}
complete-waiting = Complete
lines-wait = Pasted, not on the bench yet:
let-go = Let go
understood-as = Understood as
understood = { NUMBER($good) } of { $count ->
    [one] one line
   *[other] { NUMBER($count) } lines
}
need-you = { NUMBER($count) } { $count ->
    [one] needs
   *[other] need
} you
left-out-lines = Not taken for lines
left-out-lines-hint = If one of these is an ingredient, write it in a line of its own above, with its amount.
put-on-bench = Put { $count ->
    [one] one line
   *[other] { NUMBER($count) } lines
} on the bench
nothing-to-put = Nothing for the bench yet
rest-brought-to-all = What is left is brought to 100 % in proportion.
about = about { $amount }
read-misspelt = “{ TEXT($name) }” is read as a spelling mistake.
read-common = The common one of that name; it could be { $others }.
left-out = left out
done = Done
change = Change
leave-it-out = Leave out
line-is = { TEXT($name) } is
choose-ingredient = Choose an ingredient…
amount-of = Amount of { TEXT($name) }
unit-of = Unit of { TEXT($name) }
choose-unit = unit…
not-an-amount = “{ TEXT($text) }” is not an amount: write it like 12.5 or 12,5.
text-not-a-number = “{ TEXT($text) }” is not a number: write it like 12.5 or 12,5.
of-which-fault = { TEXT($name) }: { $fault }
give-a-name = Give it a name.
name-taken = Another line is called “{ TEXT($name) }”: give it another name.
give-an-acid = Give at least one fatty acid.
give-two = Give at least two.
not-a-molecule = “{ TEXT($text) }”: write a molecule and its percent, like SOS 26.
give-a-molecule = Give at least one molecule.
my-lot = { TEXT($name) }, my lot
own-like = Like another
own-acids = Fatty acids
own-solids = Solid fat
own-molecules = Molecules
own-like-hint = but melts elsewhere
own-acids-hint = from a certificate
own-solids-hint = from a laboratory
own-molecules-hint = triglycerides, waxes
spread-seed = A seed: shea, cocoa, coconut
spread-pulp = A fruit’s flesh: palm, olive
spread-random = Lauric, or interesterified
own-title = An ingredient of your own
own-name = Its name
own-way = What do you know of it?
own-is-like = It is like
own-behaves = It behaves like, if known
own-like-nothing = nothing in the list
own-counts-as = Counts as
own-same-kind = the same as that
own-put-in = Put it in the recipe
own-change = Change it
own-spread = Where it comes from
own-liquid = Liquid throughout.
own-change-title = Change { TEXT($name) }
own-melts = Melts at, { $unit } (slip point), if known
own-melts-told = Slips at { $slip }, clear at { $clear }.
own-solid-told = Solid: { $figures }.
own-solid-at = { PERCENT($solid_percent) } at { $at }
own-wait = Here it says how it melts, once it is understood.
own-clear = Clear the form
own-instead-of = Put it in the place of { TEXT($name) }, { PERCENT($line_percent, digits: 2) }
own-sum = Sum: { PERCENT($sum_percent, digits: 2, unit: "none") } of 100 %
own-certificate = Paste the certificate, or fill in the boxes
own-unread = Not understood: { $texts }
own-acids-label = Fatty acids, % (leave blank what is not there)
own-solids-label = Solid fat, measured (leave blank what was not)
own-solids-at = Temperature { NUMBER($number) }, { $unit }
own-solids-percent = Solid at temperature { NUMBER($number) }, percent
one-more = One more
own-molecules-label = One a line, with its percent
own-molecules-help = Triglycerides by letters (SOS, POP, LaLaM), stearic-acid, hexadecanol, or liquid for the rest.

## When something is amiss

engine-not-fetched = The engine of this page could not be fetched. Go where there is a signal: it is fetched when the network is back, or at your next change.
engine-not-here = This browser cannot unpack the engine of this page. A newer browser can.
engine-stopped = The engine of this page stopped. It is started again with whatever you change.
try-again = Try again
went-wrong = Something in this page went wrong. What is on the bench is kept.
save-everything = Save everything as a file
save-what-was-here = Save what was here
start-over = Start over
fallen-title = Meltmargin cannot show this
fallen = Something in what was kept, or in this page, makes drawing it fail. Nothing is lost: save what was here as a file, then start over. What was on the bench is set aside; the shelf stays as it is.
aside-undrawn = it could not be drawn
not-kept = This browser does not keep what you change: it is full, or it keeps nothing for this page. Save everything as a file, or share the link, before you leave.
no-png = This browser cannot make a PNG of the picture: save it as SVG.
