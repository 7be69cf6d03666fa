/**
 * The words that reading knows. Data only: to teach a word, add it to the line of its meaning.
 *
 * A line is `meaning: "phrase, phrase, …"`. Phrases are lower case, at most five words; the longest
 * phrase wins. `it` inside a verb phrase needs no line of its own (`drew it out` reads as `drew out`).
 * Meanings are `group:value`; what a group does stands in docs/reading.md.
 */

/** Words of the trade and of talk. */
export const PHRASES: Readonly<Record<string, string>> = {
  // Working operations. Each makes or completes a heat.
  "op:flatten":
    "flatten, flattened, flattening, flattend, upset, upsetting, upsetted, squash, squashed, squashing, squished, pressed flat, hammered flat, bashed flat, whacked flat, beat flat, beaten flat, smashed flat, thumped flat, pounded flat, forged flat, squished flat, smacked flat, hit flat, laid flat, pancaked, flattened out, flattened down, knocked flat",
  "op:square":
    "whacked square, bashed square, hammered square, beat square, forged square up, brought square, trued square, into a square, square up, squared up, squaring up, squared, squaring, squared off, squared it, made square, knocked square, forged square, squared to, into a square bar, to a square bar",
  "op:draw":
    "draw, drew, drawn, drawing, drawed, fuller, fullered, fullering, stretched, stretching, lengthened, drawing out, drew out, draw out, drawn out, drew down, drawn down, drawing down, draw down",
  "op:edge":
    "working it on edge, worked it on edge, working on edge, worked on edge, edged, edging, on edge, turned on edge, edged up, worked on edge, edge forging, edge forged, hit on edge, on its edge",
  "op:taper":
    "taper, tapered, tapering, forged the tip, forged the point, forged the tang, forged a tip, forged a tang, forged a point, forged in the tip, forged tip, forged tang, forging the tip, forging the tang, forging the point, drew the tang, drew out the tang, drew the tip, drew the point, drew out the tip, distal taper, distal tapered, tip forged, tang forged, point forged, shaped the tip, pointed the tip",
  "op:bevel":
    "bevel, bevels, bevelled, beveled, bevelling, beveling, bevels in, bevels forged, put the bevels in, forged the bevels, forged bevels, forged in the bevels, forging bevels, forging the bevels, hammered the bevels in, beveled the edge, bevelled the edge",
  "op:straighten":
    "straighten, straightened, straightening, straightened out, trued up, trued, took the bend out, took the twist out, took the warp out, hammered straight, knocked straight, bashed straight, whacked straight, tapped straight, beat straight, forged straight, got straight, made straight",
  "op:punch": "punch, punched, punching, punched out, punched through, drifted, slit and drifted",
  "op:open":
    "opened, opened up, opening, opening up, opened the ring, opened up the ring, opened out, opened out the ring, opening the ring, opening up the ring, ring opened, ring is opened, ring is open, the ring is opened, open ring, open the ring up, ring open, opened the ring up",
  "op:normalise":
    "normalise, normalised, normalising, normalize, normalized, normalizing, normalisation, normalising cycle, normalizing cycle, normalising heat, normalizing heat, normalising heats, normalizing heats, normalising cycles, normalise cycle, normalize cycle",

  // Words that begin or name a fact.
  "kind:heat": "heat, heats, heating, reheat, reheated, h",
  "kind:melt":
    "melt, melts, melted, melting, crucible, charge, charged, charging, firing, poured, pour, the pour, crucible charge, melt day",
  "kind:ingot": "ingot, ingots, button, cake, newingot",
  "kind:goal":
    "i wish, wish for, i wish for, i fancy, what i want, what i'd want, what i'd like, what i need, what we want, i'd like a, i'd like, i would like, goal, target, want, wanted, i want, we want, aim, aim for, aiming for, aiming at, going for, making, make, blade of, blades of, knives of, daggers of, want a blade, customer wants, to make, the goal is, goal is, goal now, shooting for, planning, ordered, order is, commission is, hoping for, the plan is a, plan for a, plan for two, plan a, after a, need a blade",
  "kind:crack":
    "crack, cracks, cracked, cracking, seam, seams, cold shut, cold shuts, coldshut, split, splits, tear, tears, tore, torn, fissure, delamination, there's a crack, there is a crack, crack opened, crack opening, crack opened up, crack showing, crack showed up, cracks showing, found a crack, got a crack, spotted a crack",
  "kind:finish":
    "finished, finish, finished blade, blade finished, blade done, blade is done, the blade is done, finished size, final size, done and dusted, final, completed, finished at, finished up, came out at, final dimensions, finished dimensions, finished weight, finished it, blade's done, blade complete, finished the blade",
  "kind:note": "note, notes",
  "kind:route": "route, the route, routing",
  "kind:press":
    "press, hydraulic press, forging press, press rating, press rated, my press, the press",
  "kind:hammer":
    "power hammer's, the hammer's, my hammer's, hammer, power hammer, tup, air hammer, trip hammer, helve hammer, mechanical hammer, pneumatic hammer",
  "kind:handhammer":
    "hand hammer, by hand, hand hammer only, hammer by hand, only by hand, all by hand, hand forging, hand only, hand hammers only, just a hand hammer, only a hand hammer, hand forge, forge by hand, arm and hammer, no power hammer, no press, no power tools, hammer and anvil only, just hand tools, hand tools only, everything by hand",
  "kind:welderyes":
    "can weld a handle, can weld a handle on, can weld handles on, i can weld handles, i can weld handles on, i can weld a handle, i can weld a handle on, can weld, i can weld, weld a handle, weld a handle on, weld handles, weld on a handle, have a welder, got a welder, i have a welder, i've got a welder, there is a welder, there's a welder, welder available, welder yes, with a welder, can weld handles, can weld a bar on, welder is here, welder works again, welder's working, welder",
  "kind:welderno":
    "no welder, no welding, can't weld, cannot weld, cant weld, don't have a welder, dont have a welder, no way to weld, haven't got a welder, do not have a welder, without a welder, can not weld, welder broken, welder is broken, welder no, no handle welding, welder's broken, welder is dead, not able to weld, i can't weld, can't weld a handle, can't weld a handle on, can't weld handles, i can't weld a handle on, cannot weld a handle, cannot weld a handle on, nothing to weld with, no welder here",
  "kind:unitsmm":
    "mm please, use mm, metric, metric please, switch to mm, i work in mm, work in mm, millimetres please, millimeters please, use metric, use millimetres, use millimeters, switch to metric, units mm, units metric, in millimetres please, everything in mm, back to mm, mm from now on, set units to mm, we use mm, i use mm, change to mm, talk mm, go metric, i work in millimetres, i work in metric, work in metric, i work in millimeters, show mm, show me mm, millimetres from now on, millimetres, set mm",
  "kind:unitsinch":
    "inches please, use inches, i work in inches, work in inches, imperial, imperial please, switch to inches, units inches, units inch, use inch, use imperial, in inches please, inch please, everything in inches, back to inches, inches from now on, set units to inches, set units to inch, we use inches, i use inches, change to inches, switch to imperial, switch to inch, talk inches, go imperial, i work in imperial, show inches, show me inches, i think in inches, set inches, units in inches",
  "kind:tempc":
    "celsius from now on, celsius from now on please, use celsius, celsius please, temperatures in celsius, temperature in celsius, switch to celsius, degrees celsius please, in celsius please, temps in celsius, temps in c, i read celsius, show celsius, temperatures in c, i use celsius, back to celsius, centigrade please, use centigrade, use c",
  "kind:tempf":
    "fahrenheit from now on, fahrenheit from now on please, f temps, f temperatures, temps f, temps in f please, use fahrenheit, fahrenheit please, fahrenheit for the temperatures, fahrenheit for temperatures, fahrenheit for temps, temperatures in fahrenheit, temperature in fahrenheit, switch to fahrenheit, degrees fahrenheit please, in fahrenheit please, temps in fahrenheit, temps in f, i read fahrenheit, show fahrenheit, temperatures in f, my pyrometer is in fahrenheit, i use fahrenheit, back to fahrenheit, pyrometer reads fahrenheit, my pyrometer reads fahrenheit, pyrometer is fahrenheit, use f",
  "kind:spokenyes":
    "spoken replies on, read replies out loud, read your replies out loud, read the replies out loud, read answers out loud, replies out loud, read it out loud, read them out loud, spoken replies, talk to me, answer out loud, reply out loud, speak your answers, speak the answers, read it out, voice replies, voice replies on, spoken answers, spoken answers please, speak to me, say it out loud, answers out loud, speak your replies, spoken replies please, voice replies please, answer by voice, reply by voice, voice on, talk back, speak up, speak replies, read the answers out, read the replies out, speak the replies, speak the reply, speak your reply, speak them, turn on spoken replies, turn spoken replies on, turn voice replies on, voice answers please",
  "kind:spokenno":
    "spoken replies off, no spoken replies, stop talking, text only, voice off, voice replies off, no voice replies, don't speak, no voice, just text, text replies only, text replies, written replies, turn off spoken replies, turn spoken replies off, turn voice replies off, stop the voice, stop the voice replies, stop voice replies, stop the spoken replies, stop spoken replies, no more voice replies, stop speaking, text only please, be quiet, answers in writing, written answers, written answers please, quiet replies",

  // Ways to take steel away.
  "removal:grind":
    "grindstone, grind, ground, grinding, grinded, sanded, sanding, linished, linishing, linisher, belted, grinder, belt grinder, angle grinder, ground off, ground out, ground away, flap disc, surface ground",
  "removal:chisel":
    "chisel, chiselled, chiseled, chiselling, chiseling, chisel out, chiselled out, chiseled out, hot chisel, hot cut out",
  "removal:cut":
    "cutted, cutted off, cut, cutting, sawn, sawed, sawing, saw, cropped, cropping, crop, trimmed, trimming, trim, lopped, lopped off, cut off, chopped, chopped off, hot cut, hot cut off, hacksawed, bandsawed, nipped off, sawed off, sawn off, sliced off, bandsaw, hacksaw, sheared, sheared off",
  "removal:file": "file, filed, filing, filed off, filed out, filed away",
  "removal:any":
    "slug weighed, slug weighs, slug was, the slug weighed, slug, broke off, broke a piece off, a piece broke off, piece came off, lost a piece, lost, lose, losing, took off, taken off, removed, remove, removing, took, came off, come off, off the, weighed the swarf, loss, flaked off, knocked off, knocked back, whittled, whittled off, shaved, shaved off, skimmed, skimmed off, scraped, scraped off, nibbled off, hogged off, dressed back",
  "gone:crack":
    "that cracks gone, the cracks gone, gone, all gone, hairline is gone, that hairline is gone, the hairline is gone, seam is gone, that seam is gone, split is gone, tear is gone, that crack is gone, the crack is gone, crack is gone, crack gone, crack's gone, that crack's gone, the crack's gone, cracks are gone, crack has gone, got rid of the crack, got the crack out, crack is out, crack removed, crack cleaned out, crack cleaned up, crack is cleaned up, crack came out, got that crack out, that crack is out, cleaned the crack out, cleaned up the crack, removed the crack, cleared the crack, crack is history, is gone, is gone now, has gone, is out now, got it out, came out clean now, cleaned out the crack, that crack is history",

  // Places on the piece.
  "place:top":
    "top of the ingot, top of the disc, top of the puck, top of the cake, top, pipe side, top side, top face, crown",
  "place:bottom":
    "bottom of the ingot, bottom of the disc, bottom of the puck, bottom, bowl side, underside, bottom side, under side, underneath, belly",
  "place:rim": "rim, rims",
  "place:face": "face, faces, flat, side, flats, sides, flat side, broad side, one face, wide face",
  "place:spine": "spine, back, spine side, back edge",
  "place:edge": "edge, edges, corner, corners, cutting edge, edge side",
  "place:end":
    "end of the bar, end of bar, end of the piece, end of the billet, end, ends, butt, far end, butt end, the one end, tail end, one end",
  "place:tang": "tang, tang end, tang side, tang shoulder, shoulder",
  "place:tip": "tip, point, tip end, point end",

  // Cracks.
  "severity:hairline": "hairline, hair line, hair, fine, hairlines",
  "severity:small": "small, tiny, little, minor, slight, wee, minute",
  "severity:large": "large, big, bad, huge, nasty, major, serious, massive, ugly, horrible",

  // Labels of figures. `adj` binds to the figure before it, `noun` to either side.
  "adj:thicknessMm": "thick, thick now",
  "adj:widthMm": "wide",
  "adj:lengthMm": "long, in length, lengthways, lengthwise, end to end",
  "adj:depthMm": "deep, in depth",
  "adj:heightMm": "high, tall, in height",
  "adj:diameterMm":
    "across, outside, in diameter, od, outside diameter, outer diameter, round, wide across, across the top, over the top",
  "adj:bottomDiameterMm":
    "across the bottom, at the bottom, dia at the bottom, bottom dia, at the foot, across the base, at the base, dia bottom, diameter at the bottom, across at the bottom, dia at the base, at the small end, wide at the bottom, dia below, on the bottom, across the foot",
  "adj:square":
    "both ways, each way, in both directions, square, sq, square section, square bar, square block",
  "adj:carbonPct": "carbon, percent carbon, per cent carbon, % carbon, %c",
  "adj:positionMm":
    "from the tang end, from the tang, from tang end, from tang, from the handle end, from the tang side, off the tang end, in from the tang, up from the tang, up from the tang end, in from the tang end, from the handle, along from the tang, away from the tang, along from the tang end, from the butt, from the butt end",
  "noun:thicknessMm": "thickness, wall, thk, wall thickness, t",
  "noun:widthMm": "width, w, breadth",
  "noun:lengthMm": "length, l, len, total length, overall length, overall",
  "noun:heightMm": "height, hgt, ht",
  "noun:depthMm": "depth",
  "noun:diameterMm": "diameter, dia, diam, ø, bore hole",
  "noun:bottomDiameterMm": "bottom diameter, foot diameter, base diameter, bottom ø",
  "noun:massG":
    "mass, weight, weighs, weighed, weighing, weigh, on the scale, on the scales, on scale, scales say, scale says, weighs in at, weighed in at, tips the scale at, left, on the balance, all up, in weight, remaining, heavy, scale reads, scales read, the scale says, weighs now, still weighs",
  "noun:pipe":
    "pipe, pipe zone, pipe hole, shrinkage pipe, the pipe goes, pipe goes, piped, shrink hole, pipe is",
  "noun:tangLengthMm": "tang length, tang of, with a tang of",
  "noun:peak":
    "peak, peaked, peaked at, max, maximum, top temperature, peak temperature, up to temperature, peak temp",
  "noun:carbonPct": "carbon content, carbon at, aim carbon",
  "noun:ingotG":
    "ingot out, out came, came out, came out at, ingot weighs, ingot weighed, ingot of, yield, yielded, ingot came to, got out, gave, gave me, ingot weight, ingot mass, button weighs, button weighed, out of it came, result, ingot came out at",
  "noun:from": "from",
  "noun:duration":
    "soak, soaked, soaking, hold, held, holding, lasted, lasting, took me, kept, kept at, hold time, sat",
  "noun:bore": "bore, cylinder, ram, piston, bore size",
  "noun:bite": "bite, bites, bite of, squeeze",

  // Directions that tell what one unlabelled figure is.
  "dir:out": "out, out to, got it out to, up to length",
  "dir:down": "down, down to, thinned, thinned to, reduced to, thin to, thinned down to",

  // Shapes.
  "ingotshape:bowl": "bowl, bowl shaped, bowl shape, round bottomed, dished",
  "ingotshape:puck": "puck, hockey puck, puck shaped, flat puck",
  "ingotshape:cone": "cone, conical, cone shaped, truncated cone",
  "shape:disc": "disc, disk, round disc, pancake",
  "shape:block": "block, billet, brick",
  "shape:ring": "ring's, the ring's, ring, doughnut, donut",
  "shape:bar": "bar, blank, stock",

  // Blades.
  "edge:single": "single edge, single edged, single, single sided, one edge, one edged",
  "edge:double":
    "double edge, double edged, double, dagger, daggers, two edged, two edges, doubled edged, double sided",
  "goal:blade":
    "blade, blades, blades of, knives of, daggers of, knife, knives, sword, seax, sax, chef knife",

  // Routes.
  "route:spine":
    "pipe to the spine, pipe to spine, pipe in the spine, spine route, the spine route, pipe into the spine, pipe goes to the spine, pipe goes in the spine, pipe towards the spine, pipe along the spine, pipe on the spine, pipe at the spine, route spine, pipe up in the spine, spine way, route to spine, pipe side to the spine, pipe up the spine, pipe into spine, pipe toward the spine",
  "route:face":
    "pipe to a face, pipe to the face, pipe to face, pipe in the face, pipe in a face, face route, the face route, pipe to one face, pipe on a face, pipe on the face, pipe into a face, pipe goes to a face, pipe goes to the face, route face, pipe on one face, pipe into the face, pipe in one face, face way, pipe at the face, pipe to one side, pipe side to a face, pipe side to the face",
  "route:end":
    "pipe to the end, pipe to one end, pipe to an end, pipe to end, pipe in the end, end route, the end route, pipe at one end, pipe at the end, pipe in one end, pipe goes to one end, pipe goes to the end, route end, pipe into one end, pipe towards one end, pipe at an end, pipe into the end, pipe out the end, end way, pipe out at one end, pipe into the tang end, pipe to the tang end, pipe to the tang",
  "route:ring":
    "punch it out and open the ring, punch out the pipe and open the ring, punch the pipe out and open the ring, ring route, the ring route, route ring, punch it and open the ring, pipe punched out, go with a ring, make a ring of it, ring way, punch and open, as a ring with the pipe punched out, punch the pipe and open it up, punch and open the ring, punch the pipe out, open it as a ring, punch the pipe out and open it up, punch it and open it up, punch out the pipe and open it up, as a ring, open into a ring, open it into a ring, punch the pipe out and open into a ring",
  "split:yes":
    "split bar in two, split the bar in two, cut the bar in two, bar in two, cut into two blades, one bar cut into two blades, one bar cut in two, split in two, split it in two, two blades from one bar, two blades out of one bar, two blades from the bar, cut in two, cut it in two, split into two, split it into two, split the bar in two, split the bar, middle in the tangs, with the middle in the tangs, doubtful middle in the tangs, two blades from this bar, tangs in the middle, split in the middle, split the bar into two blades, split it into two blades, split into two blades, two blades out of this bar, two blades from it, two blades tang to tang, tangs to the middle, halve the bar, split this one in two, split this in two, split this bar in two, split that in two, split the block in two, both tangs in the middle, two from one bar",

  // Charges of a melt.
  "what:charge":
    "iron, pure iron, bloom, bloomery iron, wrought iron, cast iron, charcoal, graphite, glass, leaves, steel, mild steel, white iron, pig iron, sand, flux, vanadium, ferrovanadium, electrolytic iron, soft iron, hearth steel, scrap, shavings, nails, lime, green glass, bottle glass, manganese, sponge iron, iron powder, old files, file steel, grey iron, hard coke, coke, limestone, rail steel, spring steel, offcuts, turnings, iron ore, carbon iron, crushed glass, broken glass, wood, birch charcoal, oak charcoal, bone, dry leaves, oak leaves, rice husk, chips, filings, high purity iron, low carbon iron, wrought, wrought scrap, tool steel, horseshoe nails, steel scrap, steel shot, shot, ferrochrome, carbonyl iron, white cast iron, crucible scrap, old ingots, bits",
  "cooling:word":
    "cooled, cooling, cool, cooldown, left to cool, let cool, let it cool, cooled down, cool down",

  // Talk with the bot.
  "ask:word":
    "what, what's, whats, what is, whereabouts, how, how's, hows, where, where's, wheres, which, when, why, who, will, would, can i, can you, could i, could you, can we, should i, should we, do i, do we, does, did i, did we, is it, is there, am i, are we, tell me, show me, show, give me, how's it, have i, shall i, is this, is that, any idea, is the, how about, what about",
  "about:next":
    "how many heats left, heats left, how many more heats, how many heats to go, how many heats until it is done, next size, what next, what now, now what, what's next, whats next, next step, next, what should i do, what do i do, next target, what am i aiming for, what size next, next stage, what comes next, what do i forge, next size please, what's the next size, and now, next please, what to do now, what to do next",
  "about:plan":
    "plan, the plan, full plan, replan, will it fit, what if, which blade, what blade, how big a blade, longest blade, biggest blade, largest blade, does it fit, enough steel, enough for, which route, best route, new plan, will it make, does it still fit, is it enough, is there enough, make a blade, show the plan, how long a blade, plan please, what route, will that fit, would it fit, can i still get, can i get, still enough, which way should i, suits this, heats will it take, heats to go, heats left, how many heats",
  "about:status":
    "ingots, which one am i on, which ingot am i on, list ingots, show ingots, is it bad, where were we, where was this, status, where is the pipe, where's the pipe, where does the pipe, where the pipe, how heavy, what size is it, what size, how thick, how wide, where am i, where are we, how long is it, what do i have, what does it weigh, what have i got, how big, what's the size, current size, what is in hand, which ingot, what's on the anvil, weigh now, much does it weigh, what weight, pipe lie, pipe now, where was i, which bar is this, what bar, what was the last size, last size, last heat, how many heats so far, how many cracks, what heat, which heat, how much steel, heats have i done, how many heats have, heat am i on, in hand, the pipe sit, how deep is the pipe, what does it weigh now",
  "about:loss":
    "how much have i lost, lost so far, loss so far, what have i lost, what did i lose, how much scale, losses, how much steel have i lost, what's lost, how much did i lose, total loss, lost to scale, scale loss, how much is lost, lost in all, lost altogether, lost in total, gone so far, loss, how much went, i lost, have i lost, gone in scale, much is gone, lost already, lost on this",
  "about:time":
    "time, how long have i got, how long before, how long do i have, how long until, how long till, how long til, working time, how much time, time left, seconds left, how long can i, too cold, how long will it, how many seconds, how long to cool, stay hot, how long does it, how soon",
  "about:force":
    "force, will it do it, will that do it, would it do it, would that do it, how much force, what force, force for, will the press do it, can the press, is the press enough, what tonnage, how many tons, how many tonnes, tonnage, force needed, how hard, enough press, press do, press manage, press handle, press big enough, force do i need, is my press, will my press, press squeeze, can my press, how much press, press strong enough, too much for the press, kn do i need, kn for, how many kn, press take",
  "about:summary":
    "what was heat, sum up, summary, sum it up, ingot card, the card, card, summarise, summarize, recap, sum this one up, sum this up, sum that up, sum that one up, give me the whole story, whole story, how did it go, sum up this ingot, sum up the ingot, wrap up, the whole story, overview, history, tell me about, everything so far, story of, run me through, whole thing so far",
  "about:day":
    "day, day sheet, today's sheet, sheet of the day, what did i do today, what did we do today, todays sheet, the day, day summary, today so far, sheet for today, done today, what have i done today, yesterday's sheet, sheet, sum up the day, summary of the day, do today, do yesterday, what happened today, how was the day, today's work, this day, the day's work, day card, so far today, today's log, sum up today, summary of today, summary for today, get done today, got done today, today",
  "about:help":
    "help, how does this work, what can you do, how do i, commands, instructions, what can i say, help me, how to use, what can i tell you, what do you understand, how do you work, what do i say, how does this thing work",
  "topic:log":
    "what was the last entry, what did you write down, what have you got written, last entry, what did i say, read that back, read it back, what did you get, what have you recorded, what did you record, the log, read back, last thing i said, what have you got",
  "say:undo":
    "go back one, go back one step, back one step, step back, one step back, never mind the last one, never mind the last, undo, undo that, undo last, undo the last, undo it, scratch that, take that back, take it back, delete that, delete the last, delete last, forget that, forget it, strike that, cancel that, erase that, remove that entry, scrap that, remove that, remove the last entry, delete that entry, delete the last entry, undo the last one, take back the last, take back that, delete the last one, forget the last one, forget the last, cancel the last, cancel the last one, never mind that, ignore that, ignore the last, ignore the last one, scratch the last, scratch the last one, scratch it, disregard that, wipe that, delete it, drop that, remove the last one, take the last one back, take back the last one, ignore that last one, scratch that last one, delete that last one, forget that last one, undo that last one, undo please, strike the last, strike the last one, that didn't happen, erase the last, erase the last one, cancel",
  "say:again":
    "very same thing all over again, the very same thing again, did the very same thing all over again, same thing all over again, repeat of the last, repeat of the last heat, repeat of that, more of those, more of the same, more of them, more like that, more like those, twice more, three times more, did that twice more, same again as, same again, same as before, same thing again, same as last, same as last time, the same again, ditto, repeat that, one more the same, and again, same once more, again the same, did it again, same heat again, another of the same, do that again, repeat the last, same as last heat, same as the last one, another one the same, same one more time, and the same again, once more the same, same heat once more, the same, like that, like the last, like before, like the last one",
  "say:another": "another, a further, further, one more, and another, more off",
  "say:next heat":
    "another heat, one more heat, heat done, next heat, next heat done, done another heat, new heat, heat finished, fresh heat, that's another heat, thats another heat, one heat more, a heat done, did a heat, did another heat, back in the fire, heat over, heat's done, end of heat, finished the heat, finished another heat, that heat is done, that's the heat done, through another heat",
  "say:switch":
    "switch me to, switch me over to, move me to, swap me over to, swap over to, put me back on, put me on, get me back to, get back to, take me back to, back to, back on, i'm back on, i'm on, go over to, going over to, changing over to, change over, take me to, take me over to, bring up, bring back, return to, onto, over on, this bit is for, this is for, this one is for, next is for, switch to, switch over to, over to, on to, now on, working on, change to, swap to, moving to, going back to, now working on, pick up, picking up, move to, let's do, go back to, moving on to, working on the, take up, switching to, switching back to, now for, returning to, swapping to, return to, moving over to, switch back to, change over to, next up is, now doing, on with, carry on with, continue with, continuing with, go to, open ingot",
  "say:wrong ingot":
    "that last was ingot, that last one was ingot, last one was ingot, the last one was ingot, last was ingot, that was ingot, that was for ingot, that was on ingot, that should be ingot, i meant ingot, wrong ingot, wrong bar, wrong one, not this ingot, wrong piece, wrong block, wrong billet, wrong blade",
  "say:not": "not, instead of, rather than, and not, never, and never",
  "say:meant":
    "i meant, meant, i mean, i said, that should be, that should have been, should be, should've been, should have been, it should be, should read, was meant to be, supposed to be, was supposed to be, that was meant to be",
  "say:make that":
    "i tell a lie, tell a lie, i lie, what am i saying, i should have said, should have said, make that, make it, change that to, change it to, correct that to, correction, correct to, that's actually, that was actually, it was actually, it's actually, it is actually, actually, sorry, oops, no wait, wait, change to, correct it to, fix that to, no sorry, wait no, sorry no, call it, i misread, misread, my mistake, whoops, correct, read that as, that's wrong, typo, let me correct that, correct that, let me fix that, i need to correct that, fix that, i have to correct that",
  "say:no": "no, nope, nah",

  // Roughly.
  "approx:yes":
    "about, roughly, around, approx, approximately, circa, ca, nearly, almost, or so, ish, more or less, give or take, somewhere around, somewhere between, just about, just under, just over, approx., near enough, close to, some, rough, maybe, bout, thereabouts, or thereabouts, something like, somewhere near, in the region of, a bit over, a bit under, a little over, a little under, give or take a bit, ballpark, round about, perhaps, estimated, a bit more than, a bit less than, a shade over, a shade under, a touch over, a touch under, just short of, not quite, guess, i guess, i reckon, probably",
};

/** Clauses kept as a note, as typed, from the word to the end of the clause. */
export const NOTE_WORDS =
  "quenched, quench, quenching, quenched it, tempered, tempering, temper, annealed, annealing, anneal, etched, etching, etch, polished, polishing, hardened, hardening";
export const NOTE_PHRASES =
  "can't see any cracks, cant see any cracks, can't see a crack, cannot see any cracks, see no cracks, don't see any cracks, didn't see any cracks, can't find any cracks, couldn't find any cracks, found no cracks, no cracks, no crack, didn't crack, did not crack, hasn't cracked, has not cracked, not cracked, nothing cracked, never cracked, no new cracks, no cracks at all, no cracks so far, no visible cracks, no cracks anywhere, looks clean, clean so far, no sign of cracks, no signs of cracks, still no cracks, looks sound, no cracks yet, without cracks, crack free, surface is clean, surface clean, looks clean now, came out clean, no cracks showing, no cracks visible, no seams, no cold shuts, all clean";

/** Heat colours: shades may stand before a hue. */
export const SHADES =
  "dull, bright, dark, light, pale, deep, low, cherry, blood, full, medium, faint, yellowish, reddish, orangey, blackish, very, lemon, straw, salmon, orange, yellow, red, dim, barely, black, just, hot";
export const HUES =
  "red, orange, yellow, white, cherry, salmon, lemon, straw, sparkling, black, cherry red, magenta, brown, amber, purple";

/** Units: dimension and factor stand in units.ts; here only how people write and say them. */
export const UNIT_WORDS: Readonly<Record<string, string>> = {
  mm: "mm, mms, mil, mill, millimetre, millimetres, millimeter, millimeters, milimetre, milimetres, milimeter, milimeters, millis, mills, mils, millimetrs",
  cm: "cm, cms, centimetre, centimetres, centimeter, centimeters, centis, cent",
  m: "metre, metres, meter, meters",
  inch: "inch, inches, in, ins, inchs, inche",
  foot: "foot, feet, ft",
  thou: "thou, thous, thousandth, thousandths, thousandths of an inch, thousandth of an inch, thousands of an inch",
  g: "g, gr, gm, gms, gram, grams, gramme, grammes, grms",
  kg: "kg, kgs, kilo, kilos, kilogram, kilograms, kilogramme, kilogrammes",
  oz: "oz, ozs, ounce, ounces, onces",
  lb: "lb, lbs, pound, pounds",
  c: "c, celsius, centigrade, celcius, degc",
  f: "f, fahrenheit, farenheit, fahrenheits, degf, farenheight, fahrenheight",
  k: "k, kelvin, kelvins",
  degree: "degree, degrees, deg, degs",
  s: "s, sec, secs, second, seconds",
  min: "min, mins, minute, minutes",
  h: "h, hr, hrs, hour, hours",
  ton: "ton, tons",
  tonne: "t, tonne, tonnes, metric ton, metric tons",
  kn: "kn, kilonewton, kilonewtons, kilo newton, kilo newtons",
  bar: "bar, bars",
  psi: "psi",
  percent: "percent, per cent, pct, %",
};

/** Thumb shorthand, and what it stands for: one word for one word. */
export const SHORTHAND: Readonly<Record<string, string>> = {
  the: "teh, hte",
  and: "adn",
  about: "abt, abbout",
  crack: "crk, crck, krack",
  cracks: "crks, crcks",
  deep: "dp, dep",
  long: "lg, lng",
  wide: "wd",
  thick: "thck, thk'd, thik, thic, thickk",
  between: "betwen, betwean, btwn, beween",
  make: "mke, mak, amke, mk",
  not: "nt, nto",
  double: "dubble, duble, doulbe, dbl",
  last: "lats, lsat",
  cooled: "coold, colled, cooed, coolled",
  now: "nw",
  heavy: "hvy",
  back: "bak, bck, bk",
  how: "hw",
  have: "hv",
  much: "mch",
  "what's": "wats, wots, whats",
  morning: "mornin, mornin'",
  evening: "evenin, evenin'",
  next: "nxt, nex",
  bright: "brite, brght",
  night: "nite",
  sheet: "sheat, shet",
  straight: "strait, strght",
  cold: "cld",
  length: "lgth, lngth",
  width: "wdth",
  down: "dwn",
  heats: "hts",
  please: "pls, plz, plse",
  what: "wht, hwat, waht, wot, wat",
  "there's": "theres",
  sorry: "sry, srry, soz",
  meant: "ment, maent",
  ah: "ach, och",
  "that's": "thats",
  "she's": "shes",
  "he's": "hes",
  from: "frm, fr",
  with: "wth, wiht, wtih, whit",
  because: "cos, coz, cuz",
  twenty: "twenny, twenney",
  thirty: "thirdy",
  forty: "fordy",
  fifty: "fiddy, fitty",
  sixty: "sixdy",
  seventy: "seveny, sevendy, sevenny",
  eighty: "eightie",
  ninety: "niney, ninedy",
  ground: "grnd, grd",
  spine: "spn",
  again: "agn, agian",
  single: "sgl, sngl",
  that: "tht, thta",
  finished: "fin, fini, fnshd",
  should: "shoud, shuld, shld, shoudl, shuold, shd",
  heat: "hea, het, heta, heet, haet",
  pipe: "pipe's",
  hammer: "hammer's, hammers",
  which: "wich, whch",
  drew: "drw, drwn",
  flattened: "flatnd, flatt'd, flat'd",
  squared: "sqd, sq'd",
  normalised: "norm'd, normd, nrmlsd",
  blades: "blds",
  little: "lil, lill",
  "today's": "todays",
  "yesterday's": "yesterdays",
  "they're": "theyre",
  weight: "wght, wgt, wt",
  reheat: "rht",
  temp: "tmp, tmep",
};

/** Words of numbers. */
export const ONES: Readonly<Record<string, number>> = {
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
};
export const TEENS: Readonly<Record<string, number>> = {
  ten: 10,
  eleven: 11,
  twelve: 12,
  thirteen: 13,
  fourteen: 14,
  fifteen: 15,
  sixteen: 16,
  seventeen: 17,
  eighteen: 18,
  nineteen: 19,
};
export const TENS: Readonly<Record<string, number>> = {
  twenty: 20,
  thirty: 30,
  forty: 40,
  fourty: 40,
  fifty: 50,
  sixty: 60,
  seventy: 70,
  eighty: 80,
  ninety: 90,
};
export const ZEROS = "zero, oh, nought, naught, o";
/** What a part is called: `eighths` → 8. Two-word parts are joined by a blank. */
export const PARTS: Readonly<Record<string, number>> = {
  half: 2,
  halves: 2,
  third: 3,
  thirds: 3,
  quarter: 4,
  quarters: 4,
  fourth: 4,
  fourths: 4,
  fifth: 5,
  fifths: 5,
  sixth: 6,
  sixths: 6,
  eighth: 8,
  eighths: 8,
  eights: 8,
  eigths: 8,
  tenth: 10,
  tenths: 10,
  sixteenth: 16,
  sixteenths: 16,
  sixteens: 16,
  "thirty second": 32,
  "thirty seconds": 32,
  "sixty fourth": 64,
  "sixty fourths": 64,
};
export const ORDINALS: Readonly<Record<string, number>> = {
  first: 1,
  second: 2,
  third: 3,
  fourth: 4,
  fifth: 5,
  sixth: 6,
  seventh: 7,
  eighth: 8,
  ninth: 9,
  tenth: 10,
  eleventh: 11,
  twelfth: 12,
  thirteenth: 13,
  fourteenth: 14,
  fifteenth: 15,
  sixteenth: 16,
  seventeenth: 17,
  eighteenth: 18,
  nineteenth: 19,
  twentieth: 20,
};
/** Words that a recogniser writes for a heat's number: only read so right after `heat`. */
export const NUMBER_CONFUSIONS: Readonly<Record<string, number>> = {
  won: 1,
  to: 2,
  too: 2,
  for: 4,
  fore: 4,
  ate: 8,
  tree: 3,
  sex: 6,
  sicks: 6,
  tenn: 10,
};

export { FILLERS, SMALL_TALK } from "./plain-words.js";
