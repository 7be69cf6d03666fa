/** `npm run bench [NAME …]`: ratios against a peer or a floor of the same run. */
import { benchCard } from "./card.js";
import { benchPlan } from "./plan.js";
import { benchPostgres } from "./postgres.js";
import { benchReading } from "./reading.js";
import { benchSpeech } from "./speech.js";
import { benchStore } from "./store.js";
import { benchTurn } from "./turn.js";

const BENCHES: Readonly<Record<string, () => Promise<void>>> = {
  turn: benchTurn,
  store: benchStore,
  postgres: benchPostgres,
  plan: benchPlan,
  card: benchCard,
  reading: benchReading,
  speech: benchSpeech,
};

const wanted = process.argv.slice(2);
for (const [name, bench] of Object.entries(BENCHES)) {
  if (wanted.length > 0 && !wanted.includes(name)) continue;
  console.log(`\n${name}`);
  await bench();
}
