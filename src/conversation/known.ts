/** What reading is told of the state: the ingot in hand in the reader's own terms. */
import type { ReadingContext } from "../language/index.js";
import type { ChatView, Fact, IngotState, ShopSettings } from "../logbook/index.js";

export function readingContext(input: {
  readonly now: string;
  readonly timezone: string;
  readonly shop: ShopSettings;
  readonly view: ChatView;
  readonly state: IngotState | undefined;
  readonly expects: string | undefined;
}): ReadingContext {
  const { shop, view, state } = input;
  const previous = view.ingots.find(({ ingotId }) => ingotId === view.previousInHand)?.name;
  const last = view.lastTurns[0]?.entries.flatMap(({ fact }) => (fact === undefined ? [] : [fact]));
  return {
    now: input.now,
    timezone: input.timezone,
    units: shop.units ?? "mm",
    temperatureUnits: shop.temperatureUnits,
    last: last as readonly Fact[] | undefined,
    ingot: state === undefined ? undefined : knownIngot(state),
    names: view.ingots.filter(({ finished }) => !finished).map(({ name }) => name),
    previous,
    expects: input.expects,
  };
}

function knownIngot(state: IngotState): NonNullable<ReadingContext["ingot"]> {
  const weighed = state.weighings.at(-1);
  return {
    name: state.name,
    heats: state.heats.at(-1)?.value.number ?? 0,
    massG: weighed?.massG ?? state.facts.massG,
    wholeG: wholeG(state),
    carbonPct: state.facts.carbonPct,
    piece: state.piece,
    temperatureC: state.heats.at(-1)?.value.temperatureC,
    lastRemovalG: state.removals.at(-1)?.value.massG,
  };
}

function wholeG(state: IngotState): number | undefined {
  const weighed = state.weighings.at(-1)?.massG ?? state.facts.massG;
  const taken = state.removals.map(({ value }) => value);
  const unweighed = taken.some(
    ({ method, massG }) => (method === "cut" || method === "punch") && massG === undefined,
  );
  if (weighed === undefined || unweighed) return undefined;
  return weighed - taken.reduce((sum, { massG }) => sum + (massG ?? 0), 0);
}
