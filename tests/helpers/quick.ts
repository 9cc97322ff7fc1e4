/** Work that must not take long, judged alike on a quick machine, a slow one and one that does other things beside. */

/** What `plainWork` takes on the machine that the limits were written for. */
const usualMs = 15;

/**
 * Does some work and throws where it takes longer than `mostMs` would be on the usual machine. Most work is done within
 * that by the clock, and nothing else is asked. Else it is done up to three times more, and one of these must be quick in
 * the processor's own time, by the measure of plain work done beside it.
 * @param again the same work from its start, where `work` remembers what it did
 */
export function quick<T>(mostMs: number, work: () => T, again: () => unknown = work): T {
  const started = performance.now();
  const result = work();
  if (performance.now() - started <= mostMs) return result;
  const allowedMs = mostMs * slowness();
  let tookMs = Infinity;
  for (let more = 0; more < 3 && tookMs > allowedMs; more++) tookMs = Math.min(tookMs, cpuMs(again));
  if (tookMs > allowedMs)
    throw new Error(`took ${Math.round(tookMs)} ms, where ${Math.round(allowedMs)} ms are enough`);
  return result;
}

/** How many times slower this machine is at the moment; at least 1. */
function slowness(): number {
  return Math.max(1, Math.min(cpuMs(plainWork), cpuMs(plainWork), cpuMs(plainWork)) / usualMs);
}

function cpuMs(work: () => unknown): number {
  const before = process.cpuUsage();
  work();
  return process.cpuUsage(before).user / 1000;
}

/** Texts, tables and sorting, with nothing of ours in it: it must not become slow where we do. */
function plainWork(): unknown {
  const words = Array.from({ length: 20_000 }, (_, index) => `word-${(index * 7919) % 20_011}`);
  const lengths = new Map(words.map((word) => [word, word.length]));
  return JSON.parse(JSON.stringify([...lengths].sort(([a], [b]) => (a < b ? -1 : 1))));
}

/**
 * How many times longer some work takes on twice as much: 2 where it is linear, 4 where it is quadratic. The best of
 * several runs, in the processor's own time, as other work may be done beside.
 * @param size large enough for some milliseconds
 */
export function growth(size: number, work: (size: number) => unknown): number {
  let [once, twice] = [Infinity, Infinity];
  work(size);
  for (let round = 0; round < 4; round++) {
    once = Math.min(
      once,
      cpuMs(() => work(size)),
    );
    twice = Math.min(
      twice,
      cpuMs(() => work(2 * size)),
    );
    if (twice / once < 2.5) break;
  }
  // Below that nobody can tell.
  return twice < 5 ? 1 : twice / once;
}
