/** A token that an error quotes does not reach the file. */
import { expect, it } from "vitest";
import { openForWriting } from "../../src/store/open-database.js";
import { SqliteStore } from "../../src/store/sqlite-store.js";
import { atSecond, sampleMessage, sampleTurn } from "./sample-turns.js";

it("keeps why a send failed, without the token in the address", async () => {
  const open = openForWriting(":memory:", atSecond(0));
  const store = new SqliteStore(open);
  await store.receive(sampleMessage({ id: "a" }));
  await store.commit(sampleTurn({ id: "a" }, []));
  const token = `123456789:${"AbCdEfGhIj".repeat(3)}-_x12`;
  const reason = `request to http://127.0.0.1:8081/bot${token}/sendMessage failed, port 8081`;
  await store.markFailed("r-a", atSecond(1), reason, false);
  const kept = open.db.prepare("SELECT last_error FROM reply").pluck().get();
  expect(kept).toBe("request to http://127.0.0.1:8081/bot[token]/sendMessage failed, port 8081");
  expect(open.db.serialize().includes(token)).toBe(false);
  await store.close();
});
