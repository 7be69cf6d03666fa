/**
 * The platform's own fetch for grammY. Its default client does not notice an answer that is cut off in
 * the middle and waits for its time-out (measured: 4 s of 4 s, against 40 ms here), and the outbox with it.
 */
import type { ApiClientOptions } from "grammy";

type ClientFetch = NonNullable<ApiClientOptions["fetch"]>;

export const platformFetch = (async (address: string, init: Record<string, unknown> = {}) => {
  const { agent: _agent, compress: _compress, signal, ...rest } = init;
  // A body that is a stream (a file) is sent while it is read.
  const streamed = rest.body !== undefined && typeof rest.body !== "string";
  return fetch(address, {
    ...rest,
    signal: nativeSignal(signal as LibrarySignal | undefined),
    ...(streamed ? { duplex: "half" } : {}),
  } as RequestInit);
}) as unknown as ClientFetch;

/** The library stops its calls with a signal class of its own, which the platform refuses from Node 24 on. */
interface LibrarySignal {
  readonly aborted: boolean;
  addEventListener(what: "abort", then: () => void): void;
}

function nativeSignal(given: LibrarySignal | undefined): AbortSignal | undefined {
  if (given === undefined || given instanceof AbortSignal) return given;
  const stop = new AbortController();
  if (given.aborted) stop.abort();
  else given.addEventListener("abort", () => stop.abort());
  return stop.signal;
}
