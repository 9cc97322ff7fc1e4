import { writeFileSync, writeSync } from 'node:fs';
import { test } from 'vitest';
import fc from 'fast-check';
import { corpus } from './corpus.ts';
import { mutated } from './mutate.ts';
import { expectSound } from './sound.ts';
test('survey', () => {
  const n = Number(process.env.N ?? 2000);
  const start = performance.now();
  const all = fc.sample(mutated(corpus, 3, process.env.G === '1'), { numRuns: n, seed: Number(process.env.S ?? 1) });
  console.log('made', performance.now() - start);
  const faults = new Map<string, [number, string]>();
  const t = performance.now();
  let broken = 0,
    findings = 0,
    fixes = 0;
  for (const one of all) {
    const t0 = performance.now();
    if (process.env.LOG) writeFileSync('/tmp/last.txt', one.name + '\n' + one.kind + '\n' + one.text);
    try {
      const r = expectSound(one);
      if (r.doc.broken) broken++;
      findings += r.findings.length;
      fixes += r.findings.reduce((s, f) => s + f.fixes.length, 0);
    } catch (e) {
      const k = String((e as Error).message).slice(0, 400);
      const key =
        ((e as Error).stack ?? '')
          .split('\n')
          .filter((l) => l.includes('/server/'))
          .slice(0, 2)
          .join('|') + k.replace(/\d[\d.]*/g, '#').slice(0, 120);
      const f = faults.get(key);
      faults.set(key, [(f?.[0] ?? 0) + 1, f?.[1] ?? `${one.name} ${one.done} :: ${k}`]);
    }
    const took = performance.now() - t0;
    if (took > 300) writeSync(2, `SLOW ${Math.round(took)} ${one.name} ${one.done}\n`);
  }
  console.log(n, 'in', performance.now() - t, 'cpu', process.cpuUsage().user / 1e6, { broken, findings, fixes });
  for (const [k, v] of faults) console.log('FAULT', k, v);
}, 600000);
