/**
 * What smiths say, as wordings with figures left open. Each wording belongs to one part as a whole:
 * what is measured last was never looked at while the grammar and its weights were chosen.
 */
export interface Wording {
  readonly shop: "bar" | "bare" | "inch";
  readonly words: string;
}

const rows = (shop: Wording["shop"], text: string): readonly Wording[] =>
  text
    .trim()
    .split("\n")
    .map((words) => ({ shop, words: words.trim() }));

const TUNE: readonly Wording[] = [
  ...rows(
    "bar",
    `
heat {heat} at {temp} drew it to {thick} by {wide} by {long}
heat {heat} {temp} degrees
heat {heat} {temp} celsius drawn out to {long} long
now {thick} by {wide} by {long}
it is {thick} thick {wide} wide and {long} long
heat {heat} squared it up to {thick} by {wide}
another heat at {temp} drew it out to {thick} by {wide} by {long}
crack {depth} deep {crackLong} long on the spine
small crack on the edge {depth} deep
hairline crack near the tip {crackLong} long
ground off {lost} grams
cut {lost} grams off the end
weighs {mass} grams now
soaked {minutes} minutes at {temp}
ground the crack out took {lost} grams
um heat {heat} at {temp} flattened to {thick} by {wide} by {long}
{thick} by {wide} by {long} millimetres
drew it down to {thick} by {wide} at {temp}
heat {heat} cherry red tapered the tip
undo that
what next
how much have i lost
no cracks
switch to ingot {ingot}
crack on the bottom {depth} millimetres deep
thickness {thick} width {wide} length {long}
chiselled out the crack {depth} deep
heat {heat} bright orange {thick} by {wide} by {long}
filed {lost} grams off the edge
where is the pipe`,
  ),
  ...rows(
    "bare",
    `
new ingot {across} across {high} high {mass} grams
ingot {ingot} {across} by {high} {mass} grams
new ingot number {ingot} weighs {mass} grams
new puck {across} diameter {high} high
new ingot {mass} grams {carbon} percent carbon
melt {charge} grams charge {temp} degrees {minutes} minutes
goal single edge {long} long {wide} wide {thick} thick
want a blade {long} by {wide} by {thick}
use millimetres
day sheet`,
  ),
  ...rows(
    "inch",
    `
heat {heat} at {temp} drew it to {thick} by {wide} by {long}
{thick} thick {wide} wide {long} inches long
drew it out to {long} inches long
crack {depth} deep on the spine
now {thick} by {wide} inches`,
  ),
];

const ASIDE: readonly Wording[] = [
  ...rows(
    "bar",
    `
heat {heat} at {temp} squared to {thick} by {wide} by {long}
heat {heat} {temp} drew it out {thick} by {wide} by {long}
okay heat {heat} {temp} celsius flattened it to {thick} thick
heat {heat} dull orange drew it to {long} long
heat {heat} at {temp} for {minutes} minutes
bar is now {thick} by {wide} by {long}
size {thick} by {wide} by {long}
{thick} thick and {wide} wide
{wide} wide {thick} thick {long} long
length {long} width {wide} thickness {thick}
drawn to {thick} by {wide} by {long} at {temp}
one more heat {temp} degrees {thick} by {wide} by {long}
crack on the spine {depth} deep
found a crack on the edge {depth} deep {crackLong} long
big crack at the end {crackLong} millimetres long
crack {crackLong} long on the face
ground {lost} grams off the face
trimmed {lost} grams off the tip
cut off {off} millimetres from the end
lost {lost} grams grinding
weight is {mass} grams
{mass} grams
now weighs {mass} grams
er heat {heat} at {temp} tapered the tang to {thick} by {wide}
held {minutes} minutes at {temp} degrees
scratch that
next size
status
that crack is gone
back to ingot {ingot}
finished {long} long {wide} wide {thick} thick`,
  ),
  ...rows(
    "bare",
    `
new ingot {across} by {high} weighs {mass} grams
new bowl ingot {across} millimetres across {high} high {mass} grams
ingot number {ingot} {mass} grams {across} across
new ingot {kilos} kilos {carbon} percent carbon
new cake {across} wide {high} high
goal double edge {long} by {wide} by {thick}
aiming for a blade {long} long {wide} wide
charge {charge} grams iron {iron} grams charcoal {coal} grams
what did i do today`,
  ),
  ...rows(
    "inch",
    `
heat {heat} {temp} drawn to {thick} by {wide} by {long} inches
it is {thick} inch thick {wide} wide
{long} inches long now
crack on the edge {depth} inch deep
squared it to {thick} by {wide}`,
  ),
];

export const WORDINGS = { tune: TUNE, aside: ASIDE } as const;

/** Talk in the room: nothing of it is for the log. */
export const TALK: readonly string[] = `
could you pass me the other gloves please
the delivery van is outside with the coal
did you feed the dog this morning
we should go for lunch at the bakery around the corner
my brother is coming over on sunday afternoon
turn the radio down i can not hear you
the customer called about his kitchen knife again
it looks like rain so shut the back door
how was the football yesterday evening
i need to buy new boots before the winter
she said the bus was late as always
let me know when the kettle has boiled
the neighbours complained about the noise again
where did you leave my glasses
do you want milk or sugar in your coffee
he fell off his bicycle on the way home
the school play starts early on friday
somebody parked in front of the workshop
remember to lock the gate when you leave
that song reminds me of the summer holidays
there is a spider on your apron
my daughter wants to become a teacher
please write the invoice before the weekend
the museum is closed because of the strike
we ran out of paper towels in the washroom
have you seen the new film with the robots
the price of electricity went up once more
careful the floor is wet over there
i will call the insurance company tomorrow
the train leaves from the other platform
our cat had kittens under the stairs
whose jacket is hanging behind the door
the doctor told him to rest his shoulder
the garden needs some water tonight
they are building a bridge across the river
nobody told me about the meeting
`
  .trim()
  .split("\n");
