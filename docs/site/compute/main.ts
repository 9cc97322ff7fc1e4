/** The forms of the computations: each answers as it is typed in, in this browser alone. */
import { run } from '../../../server/compute/index.ts';
import { spoken } from '../../../server/compute/text.ts';

for (const form of document.querySelectorAll<HTMLFormElement>('form[data-topic]')) {
  form.addEventListener('submit', (event) => event.preventDefault());
  form.addEventListener('input', () => answer(form));
}

function answer(form: HTMLFormElement): void {
  const entries = [...new FormData(form)].filter(([, value]) => String(value).trim() !== '');
  const args = entries.flatMap(([key, value]) => partsOf(form, key, String(value)).map((one) => `${key}=${one}`));
  const output = form.querySelector('output')!;
  const answered = run(form.dataset['topic']!, args);
  if ('problem' in answered) {
    const words = document.createElement('p');
    words.className = 'problem';
    words.textContent = answered.problem;
    return output.replaceChildren(words);
  }
  const list = document.createElement('dl');
  for (const [meaning, value] of spoken(answered)) list.append(row('dt', meaning), row('dd', value));
  const notes = answered.notes.map((note) => row('p', note));
  output.replaceChildren(list, ...notes);
}

/** What may be written more than once stands in one field, with semicolons between. */
function partsOf(form: HTMLFormElement, key: string, value: string): string[] {
  const field = form.elements.namedItem(key) as HTMLInputElement | null;
  return field?.dataset['several'] === undefined ? [value.trim()] : value.split(';').map((one) => one.trim()).filter(Boolean);
}

function row(name: string, words: string): HTMLElement {
  const made = document.createElement(name);
  made.textContent = words;
  return made;
}
