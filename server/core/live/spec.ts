/**
 * A spec that somebody is editing. After each change its findings are those that a check of the new text would give; what
 * did not change is neither read nor judged again.
 *
 * Inside, everything stands at staying places (see `Stretch.base`). Whoever asks for the document, the film or a fix gets
 * them at the places of the text; they are made when they are asked for.
 */
import { FilmCheck, type Silenced } from '../check.ts';
import { type Checker, type CheckResult, dependencies, withoutDoubtful } from '../checker.ts';
import { LineMap } from '../document/lines.ts';
import type { Comment, MapNode, Node } from '../document/node.ts';
import type { Doc } from '../document/parse.ts';
import type { Film } from '../film.ts';
import type { Finding } from '../finding.ts';
import type { FileKind } from '../paths.ts';
import { resolveAgain, resolveFilm } from '../resolve/film.ts';
import type { Settings } from '../settings.ts';
import { Stretches, type Trees } from './stretches.ts';

/**
 * Checks the texts that a file has one after the other, as `Checker.checkAs` does, and of a spec only what is different
 * from the text before.
 */
export function follow(checker: Checker, kind: FileKind, settings: Settings): (text: string) => CheckResult {
  if (kind !== 'shoot') return (text) => checker.checkAs(kind, text, settings);
  const live = new LiveSpec(checker);
  return (text) => live.update(text, settings);
}

export class LiveSpec {
  #stretches: Stretches | undefined;
  #checked: FilmSoFar | undefined;
  /** The same of its values as they usually are, while there are such that can't be read. */
  #usual: FilmSoFar | undefined;
  #settings: Settings | undefined;

  constructor(readonly checker: Checker) {}

  /** The same as `Checker.checkAs('shoot', text, settings)`. The results before stay as they are. */
  update(text: string, settings: Settings): CheckResult {
    const stretches = this.#stretches ? this.#stretches.with(text) : Stretches.of(text);
    // While the text can't be read, what could be read last is what the next change is compared with.
    if (!stretches) return this.checker.checkAs('shoot', text, settings);
    if (settings !== this.#settings) this.#checked = this.#usual = undefined;
    this.#settings = settings;
    this.#stretches = stretches;
    const { film, checked, kits } = (this.#checked ??= new FilmSoFar(this.checker, settings)).with(
      stretches.stayingTree(),
      text,
    );
    this.#usual = stretches.isDoubtful ? (this.#usual ?? new FilmSoFar(this.checker, settings)) : undefined;
    const usual = this.#usual?.with(stretches.usualTree(), text).checked;
    const { findings, silenced } = usual ? withoutDoubtful(checked, usual.findings) : checked;
    return new LiveResult(this.checker, settings, stretches, {
      findings: [...kits.findings, ...findings],
      silenced,
      dependsOn: dependencies(settings, kits.paths, film),
    });
  }
}

/** A film that is checked again and again. */
class FilmSoFar {
  #film: Film | undefined;
  readonly #check: FilmCheck;

  constructor(
    private readonly checker: Checker,
    private readonly settings: Settings,
  ) {
    this.#check = new FilmCheck(checker.rules, settings);
  }

  with(root: MapNode, text: string) {
    const { world, kits } = this.checker.worldOf(root, this.settings);
    const film = (this.#film && resolveAgain(this.#film, root, world)) ?? resolveFilm(root, world);
    this.#film = film;
    return { film, kits, checked: this.#check.run(film, text) };
  }
}

/** What the check of the film says, at staying places. */
type Said = Pick<CheckResult, 'findings' | 'silenced' | 'dependsOn'>;

class LiveResult implements CheckResult {
  readonly kind = 'shoot';
  readonly doc: LiveDoc;
  readonly findings: readonly Finding[];
  readonly silenced: readonly Silenced[];
  readonly dependsOn: readonly string[];
  #whole: CheckResult | undefined;
  #film: Film | undefined;

  constructor(
    private readonly checker: Checker,
    private readonly settings: Settings,
    private readonly stretches: Stretches,
    said: Said,
  ) {
    this.doc = new LiveDoc(stretches);
    const own = [...stretches.problems(), ...stretches.faults()];
    const all = [...own, ...said.findings.map((finding) => this.#placed(finding))];
    const concluded = checker.conclude(this.doc, all, stretches.accepts);
    this.findings = concluded.findings.map((finding, index) =>
      this.#withFixes(finding, ({ findings }) => findings[index]),
    );
    this.silenced = [
      ...said.silenced.map(({ finding, by }) => ({ finding: this.#placed(finding), by })),
      ...concluded.silenced,
    ].map(({ finding, by }, index) => ({
      by,
      finding: this.#withFixes(finding, (whole) => whole.silenced[index]?.finding),
    }));
    this.dependsOn = said.dependsOn;
  }

  get film(): Film {
    return (this.#film ??= this.#resolve());
  }

  #resolve(): Film {
    const { meant } = this.doc.trees;
    return resolveFilm(meant, this.checker.worldOf(meant, this.settings).world);
  }

  /** The check of all of it, for the fixes. */
  get #all(): CheckResult {
    if (!this.#whole) {
      const own = [...this.doc.problems, ...this.stretches.faults()];
      const { meant, usual } = this.doc.trees;
      this.#whole = this.checker.checkSpec(this.doc, meant, own, this.settings, usual);
    }
    return this.#whole;
  }

  #placed(finding: Finding): Finding {
    const place = (offset: number) => this.stretches.place(offset);
    const { rule, severity, message, excess, shots } = finding;
    const related = finding.related.map((one) =>
      one.file === undefined ? { ...one, start: place(one.start), end: place(one.end) } : one,
    );
    const [start, end] = [place(finding.start), place(finding.end)];
    return { rule, severity, message, start, end, related, excess, shots, fixes: [] };
  }

  /** The finding with the fixes that it has in the check of all, made when somebody asks for them. */
  #withFixes(finding: Finding, find: (whole: CheckResult) => Finding | undefined): Finding {
    const { rule, severity, message, start, end, related, excess, shots } = finding;
    const fixes = () => {
      const same = find(this.#all);
      return same?.rule === rule && same.start === start ? same.fixes : [];
    };
    return {
      rule,
      severity,
      message,
      start,
      end,
      related,
      excess,
      shots,
      get fixes() {
        return fixes();
      },
    };
  }
}

class LiveDoc implements Doc {
  readonly broken = false;
  #lines: LineMap | undefined;
  #trees: Trees | undefined;
  #comments: readonly Comment[] | undefined;
  #problems: readonly Finding[] | undefined;

  constructor(private readonly stretches: Stretches) {}

  get text(): string {
    return this.stretches.text;
  }

  get lines(): LineMap {
    return (this.#lines ??= new LineMap(this.text, this.stretches));
  }

  get trees(): Trees {
    return (this.#trees ??= this.stretches.trees());
  }

  get root(): Node {
    return this.trees.written;
  }

  get comments(): readonly Comment[] {
    return (this.#comments ??= this.stretches.comments());
  }

  get problems(): readonly Finding[] {
    return (this.#problems ??= this.stretches.problems());
  }
}
