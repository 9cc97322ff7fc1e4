import { checkFilm } from '../../server/core/check.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { resolveFilm } from '../../server/core/resolve/film.ts';
import { resolveKit } from '../../server/core/resolve/kit.ts';
import { Settings } from '../../server/core/settings.ts';
import { rules } from '../../server/rules/index.ts';
import { kits } from '../helpers/workspace.ts';
import { specOf } from './specs.ts';
const text = specOf(Number(process.argv[2] ?? 5000));
const doc = parseDocument(text);
const kit = resolveKit([{ file: 'kits/camera.kit.yaml', root: parseDocument(kits['kits/camera.kit.yaml']!).root }]);
const film = () => resolveFilm(doc.root, { kit, exists: () => false });
for (let i = 0; i < 8; i++) checkFilm(film(), rules, Settings.usual, text);
const t = (n: string, f: () => void, k = 8) => { const s = (process.cpuUsage().user / 1000); for (let i = 0; i < k; i++) f(); console.log(n, (((process.cpuUsage().user / 1000) - s) / k).toFixed(2)); };
t('resolve', () => film());
t('resolve+check', () => checkFilm(film(), rules, Settings.usual, text));
const sums = new Map<string, number>();
for (let i = 0; i < 5; i++) { const f = film(); for (const r of rules) { const s = (process.cpuUsage().user / 1000); checkFilm(f, [r], Settings.usual, text); sums.set(r.id, (sums.get(r.id) ?? 0) + ((process.cpuUsage().user / 1000) - s) / 5); } }
for (const [id, ms] of [...sums].sort((a, b) => b[1] - a[1]).slice(0, 22)) console.log(id, ms.toFixed(2));
