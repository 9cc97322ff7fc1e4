/** Questions in the terminal. What an option has answered already is not asked, and without a terminal nothing is. */
import { createInterface, type Interface } from 'node:readline/promises';
import { listText, quoted } from '../core/say.ts';
import { UsageError } from './usage.ts';

export interface Question<T> {
  /** The option that answers it beforehand, without its dashes. */
  readonly option: string;
  readonly text: string;
  /** Offered, by their number too. */
  readonly choices?: readonly Choice[];
  /** What an empty line, and `--yes`, stand for. */
  readonly usual?: string;
  /** The answer, or why it is none. */
  read(typed: string): T | { readonly why: string };
}

export interface Choice {
  /** As an option takes it. */
  readonly word: string;
  readonly label: string;
}

/** A question that takes the word of one of its choices, the first of which is usual. */
export function oneOf<T extends string>(
  option: string,
  text: string,
  choices: readonly (Choice & { readonly word: T })[],
): Question<T> {
  return {
    option,
    text,
    choices,
    usual: choices[0]!.word,
    read(typed) {
      const words = choices.map(({ word }) => word);
      return words.find((word) => word === typed) ?? { why: `It is one of ${listText(words.map(quoted), 'or')}.` };
    },
  };
}

export class Questions {
  #terminal: Interface | undefined;

  /** @param given what options say; `yes` takes what is usual for the rest */
  constructor(private readonly given: Readonly<Record<string, string | boolean | undefined>>) {}

  /** Does an option answer it? */
  has(option: string): boolean {
    return this.given[option] !== undefined;
  }

  async ask<T extends object | string>(question: Question<T>): Promise<T> {
    const { option, usual } = question;
    const said = this.given[option];
    if (typeof said === 'string') return accepted(question, said);
    if (this.given['yes'] && usual !== undefined) return accepted(question, usual);
    if (!process.stdin.isTTY || this.given['yes']) throw unanswered(question);
    for (;;) {
      const answer = readBy(question, (await this.#line(question)).trim() || (usual ?? ''));
      if (!isWhy(answer)) return answer;
      process.stdout.write(`${answer.why}\n`);
    }
  }

  end(): void {
    this.#terminal?.removeAllListeners('close');
    this.#terminal?.close();
  }

  /** Whoever ends the questions has answered none of them. */
  #line({ text, choices = [], usual }: Question<unknown>): Promise<string> {
    const terminal = (this.#terminal ??= createInterface({ input: process.stdin, output: process.stdout }));
    const lines = choices.map(({ label }, index) => `  ${index + 1}  ${label}\n`);
    process.stdout.write(`\n${text}\n${lines.join('')}`);
    const offered = usual === undefined ? '' : `[${String(numberOf(usual, choices) ?? usual)}] `;
    return new Promise((answer, fail) => {
      terminal.removeAllListeners('close');
      terminal.once('close', () => fail(new UsageError('The questions were left, so nothing was written.')));
      terminal.question(`${offered}> `).then(answer, fail);
    });
  }
}

function numberOf(word: string, choices: readonly Choice[]): number | undefined {
  const index = choices.findIndex((one) => one.word === word);
  return index < 0 ? undefined : index + 1;
}

function readBy<T>({ choices = [], read }: Question<T>, typed: string): T | { readonly why: string } {
  return read(/^\d{1,3}$/.test(typed) ? (choices[Number(typed) - 1]?.word ?? typed) : typed);
}

function accepted<T>(question: Question<T>, typed: string): T {
  const answer = question.read(typed);
  if (isWhy(answer)) throw new UsageError(`--${question.option}: ${answer.why}`);
  return answer;
}

function isWhy(answer: unknown): answer is { readonly why: string } {
  return typeof answer === 'object' && answer !== null && 'why' in answer;
}

function unanswered({ option, text, usual }: Question<unknown>): UsageError {
  const orYes = usual === undefined ? '' : `, or \`--yes\` for what is usual (${usual})`;
  return new UsageError(`${text} Nobody can be asked here: say it with \`--${option}\`${orYes}.`);
}
