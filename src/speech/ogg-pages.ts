/** OGG pages [RFC 3533] that carry Opus [RFC 7845]: what a note holds, without decoding it. */

const HEADER_BYTES = 27;
const OPUS_RATE = 48_000;
/** Page flag: its first packet began on the page before. */
const CONTINUED = 1;

export interface OggSummary {
  readonly durationS: number;
  readonly channels: number;
  readonly pages: number;
}

/** Reads page headers only. Undefined if the bytes are no whole OGG/Opus stream. */
export function oggSummary(bytes: Uint8Array): OggSummary | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 0;
  let pages = 0;
  let channels = 0;
  let preSkip = 0;
  let lastGranule = 0n;
  let packetSamples = 0;
  while (at + HEADER_BYTES <= bytes.length && isPage(bytes, at)) {
    const segments = bytes[at + 26] ?? 0;
    const body = at + HEADER_BYTES + segments;
    let size = 0;
    let begins = ((bytes[at + 5] ?? 0) & CONTINUED) === 0;
    for (let i = 0; i < segments; i += 1) {
      const lacing = bytes[at + HEADER_BYTES + i] ?? 0;
      if (begins && pages > 1)
        packetSamples += samplesOf(bytes[body + size] ?? 0, bytes[body + size + 1] ?? 0);
      begins = lacing < 255;
      size += lacing;
    }
    if (body + size > bytes.length) break;
    if (pages === 0) {
      if (!startsWith(bytes, body, "OpusHead") || size < 19) return undefined;
      channels = bytes[body + 9] ?? 0;
      preSkip = view.getUint16(body + 10, true);
    }
    const granule = view.getBigInt64(at + 6, true);
    if (granule > lastGranule) lastGranule = granule;
    pages += 1;
    at = body + size;
  }
  if (pages < 3 || channels < 1) return undefined;
  // What the pages claim and what their packets hold: a page may claim anything.
  const samples = Math.max(0, Number(lastGranule) - preSkip, packetSamples - preSkip);
  return { durationS: samples / OPUS_RATE, channels, pages };
}

/** Samples at 48 kHz of a packet, from its first two bytes [RFC 6716, 3.1 and 3.2.5]. */
function samplesOf(first: number, second: number): number {
  const config = first >> 3;
  const silk = [480, 960, 1920, 2880];
  const frame =
    config < 12
      ? silk[config % 4]
      : config < 16
        ? [480, 960][config % 2]
        : [120, 240, 480, 960][config % 4];
  const frames = [1, 2, 2, second & 63][first & 3] ?? 1;
  return (frame ?? 0) * frames;
}

const isPage = (bytes: Uint8Array, at: number): boolean => startsWith(bytes, at, "OggS");

export function startsWith(bytes: Uint8Array, at: number, letters: string): boolean {
  for (let i = 0; i < letters.length; i += 1) {
    if (bytes[at + i] !== letters.charCodeAt(i)) return false;
  }
  return true;
}

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte << 24;
  for (let bit = 0; bit < 8; bit += 1)
    rest = rest & 0x80000000 ? (rest << 1) ^ 0x04c11db7 : rest << 1;
  return rest >>> 0;
});

function checksum(bytes: Uint8Array): number {
  let sum = 0;
  for (const byte of bytes) {
    sum = ((sum << 8) ^ (CRC_TABLE[((sum >>> 24) ^ byte) & 0xff] ?? 0)) >>> 0;
  }
  return sum;
}

interface Page {
  readonly packets: readonly Uint8Array[];
  readonly granule: number;
  readonly flags: number;
  readonly sequence: number;
}
const FIRST = 2;
const LAST = 4;
const SERIAL = 1;

function pageBytes({ packets, granule, flags, sequence }: Page): Uint8Array {
  const lacing: number[] = [];
  for (const packet of packets) {
    let left = packet.length;
    while (left >= 255) {
      lacing.push(255);
      left -= 255;
    }
    lacing.push(left);
  }
  if (lacing.length > 255) throw new RangeError(`an OGG page of ${lacing.length} segments`);
  const size = packets.reduce((sum, { length }) => sum + length, 0);
  const out = new Uint8Array(HEADER_BYTES + lacing.length + size);
  const view = new DataView(out.buffer);
  out.set([0x4f, 0x67, 0x67, 0x53, 0, flags]);
  view.setBigInt64(6, BigInt(granule), true);
  view.setUint32(14, SERIAL, true);
  view.setUint32(18, sequence, true);
  out[26] = lacing.length;
  out.set(lacing, HEADER_BYTES);
  let at = HEADER_BYTES + lacing.length;
  for (const packet of packets) {
    out.set(packet, at);
    at += packet.length;
  }
  view.setUint32(22, checksum(out), true);
  return out;
}

const ascii = (letters: string): number[] => [...letters].map((letter) => letter.charCodeAt(0));

/** An OGG/Opus file of packets of `frameSamples` (at 48 kHz) each, one channel. */
export function oggOpusFile(
  packets: readonly Uint8Array[],
  frameSamples: number,
  preSkip: number,
): Uint8Array {
  const head = new Uint8Array(19);
  head.set([...ascii("OpusHead"), 1, 1]);
  const view = new DataView(head.buffer);
  view.setUint16(10, preSkip, true);
  view.setUint32(12, OPUS_RATE, true);
  const maker = ascii("hearth-tally");
  const tags = new Uint8Array([...ascii("OpusTags"), maker.length, 0, 0, 0, ...maker, 0, 0, 0, 0]);
  const pages = [
    pageBytes({ packets: [head], granule: 0, flags: FIRST, sequence: 0 }),
    pageBytes({ packets: [tags], granule: 0, flags: 0, sequence: 1 }),
  ];
  const PER_PAGE = 40;
  for (let from = 0; from < packets.length; from += PER_PAGE) {
    const group = packets.slice(from, from + PER_PAGE);
    const end = from + group.length;
    pages.push(
      pageBytes({
        packets: group,
        granule: end * frameSamples,
        flags: end >= packets.length ? LAST : 0,
        sequence: pages.length,
      }),
    );
  }
  const out = new Uint8Array(pages.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const page of pages) {
    out.set(page, at);
    at += page.length;
  }
  return out;
}
