/** The open files with their check results: each text is checked once, as long as what it depends on stays the same. */
import { addressOf } from './address.ts';
import type { Settings } from './core/settings.ts';
import { type CheckedFile, type OpenChecked, papersMoved, targetOf } from './handlers/session.ts';
import type { OpenFile, OpenFiles } from './open-files.ts';
import type { Audience } from './protocol.ts';
import type { RepoPlace, Repos } from './repos.ts';

export class CheckedFiles {
  /** Counts changes of anything but the open text: kits, settings, folders. */
  epoch = 0;
  readonly #known = new Map<string, CheckedFile>();

  /** @param settingsOf the settings for a file, those of the client laid over them */
  constructor(
    private readonly files: OpenFiles,
    private readonly repos: Repos,
    private readonly settingsOf: (place: Pick<RepoPlace, 'checker' | 'path' | 'root'>) => Settings,
  ) {}

  /** The newest text with its result; undefined for a file that is none of ours. */
  resultOf(file: OpenFile): CheckedFile | undefined {
    const before = this.#known.get(file.address);
    if (before && before.version === file.version && before.epoch === this.epoch && !before.papersMoved())
      return before;
    const place = this.repos.placeOf(file.uri, file.languageId);
    if (!place) return undefined;
    const check = (text: string) => place.checker.checkAs(place.kind, text, this.settingsOf(place), place.path);
    const result = check(file.text);
    const now: CheckedFile = {
      version: file.version,
      epoch: this.epoch,
      place,
      result,
      lastGood: result.doc.broken ? before?.lastGood : result,
      check,
      papersMoved: papersMoved(result, place),
    };
    this.#known.set(file.address, now);
    return now;
  }

  /** What is known of a file without another check: it may be some keys old. */
  known(uri: string): CheckedFile | undefined {
    return this.#known.get(addressOf(uri));
  }

  at(uri: string, audience: Audience): OpenChecked | undefined {
    const file = this.files.get(uri);
    const current = file && this.resultOf(file);
    return file && current && { file, current, target: targetOf(audience, file, current.place, current.result) };
  }

  forget({ address }: OpenFile): void {
    this.#known.delete(address);
  }

  /** Has a paper come or gone that the findings of an open file depend on? */
  papersMoved(): boolean {
    return [...this.#known.values()].some((one) => one.papersMoved());
  }
}
