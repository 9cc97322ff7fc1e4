/** What is said of a shot as it was really set for a take, and is not said of it as planned. */
import type { Related } from './finding.ts';
import { byPlace } from './check.ts';
import { checkShot, type ShotFinding } from './check-shot.ts';
import type { Range } from './document/node.ts';
import type { Finding } from './finding.ts';
import type { Rule } from './rule.ts';
import type { SheetChecked } from './runner.ts';
import { listText, quoted } from './say.ts';
import type { Settings } from './settings.ts';
import type { Take } from './takes.ts';

/** A bad take is no matter: it is not used. Takes of one shot that were set alike share a finding. */
export function takesAsSet({ film, sheet }: SheetChecked, rules: readonly Rule[], settings: Settings): Finding[] {
  const findings = new Map<string, Finding>();
  for (const take of sheet.takes) {
    const { shot, asSet, judged } = take;
    if (!shot || !asSet || asSet === shot || judged?.value === 'bad') continue;
    const planned = checkShot(shot, film, rules, settings);
    for (const one of checkShot(asSet, film, rules, settings)) {
      if (!isNews(one, planned) || (one.rule === 'setting-not-in-kit' && saysWhatFilesSay(take))) continue;
      const key = `${shot.name} ${one.rule} ${one.message}`;
      const before = findings.get(key);
      findings.set(key, before ? withPlace(before, take) : findingOf(one, take));
    }
  }
  return [...findings.values()].sort(byPlace);
}

/** Said of the plan it would be no news, unless it is graver or farther off now. */
function isNews({ rule, severity, excess = 0 }: ShotFinding, planned: readonly ShotFinding[]): boolean {
  return planned.every((one) => {
    if (one.rule !== rule) return true;
    return one.severity === severity ? (one.excess ?? 0) < excess - 1e-6 : weight[one.severity] < weight[severity];
  });
}

/** What a file says was recorded, so the camera can do it, whatever its kit says. */
const inFile = new Set(['raster', 'rate', 'bits', 'codec', 'colour-space']);

function saysWhatFilesSay({ camera, use }: Take): boolean {
  const pairs = camera?.fields.own?.pairs ?? [];
  return !use && pairs.length > 0 && pairs.every(({ key }) => inFile.has(key.text));
}

const weight = { error: 3, warning: 2, info: 1, hint: 0 };

function findingOf({ rule, severity, message, excess }: ShotFinding, take: Take): Finding {
  const { shot, clips } = take;
  const { start, end } = placeOf(take);
  const bare = message.startsWith(`${shot!.name}: `) ? message.slice(shot!.name.length + 2) : message;
  const clip = quoted(clips[0]?.text ?? 'This take');
  const text = `${clip} was taken with ${settingText(take)}, which is not as planned: ${bare}`;
  const related: Related[] = [{ ...planned(take), message: 'as planned' }];
  return { rule, severity, message: text, start, end, related, fixes: [], excess, shots: [shot!.name] };
}

function withPlace(finding: Finding, take: Take): Finding {
  const { start, end } = placeOf(take);
  return { ...finding, related: [...finding.related, { start, end, message: 'here too' }] };
}

/** The setting where there is one, else the first; where only another camera was used, its name. */
function placeOf({ camera, use, clips, shotName }: Take): Range {
  const said = camera?.fields.own?.pairs ?? [];
  return said.length === 1 ? said[0]!.value : (said[0]?.key ?? use ?? clips[0] ?? shotName);
}

function settingText({ camera, use, asSet, shot }: Take): string {
  const values = (camera?.fields.own?.pairs ?? []).flatMap(({ key, value }) =>
    value.kind === 'scalar' ? [`${key.text} ${value.text}`] : [key.text],
  );
  const body = use && asSet?.camera.body !== shot?.camera.body ? [quoted(use.text)] : [];
  return listText([...body, ...values.map(quoted)]);
}

/** What the plan says of the first of these settings; else the shot. */
function planned({ camera, shot }: Take): Omit<Related, 'message'> {
  const key = camera?.fields.own?.pairs[0]?.key.text;
  const val = key === undefined ? undefined : shot!.camera.fields.text(key);
  const { start, end, file } = val ?? shot!;
  return { start, end, ...(file !== undefined && { file }) };
}
