/** Elements of the page that the script makes or finds. Words are set as text, never as HTML. */

export function part<T extends HTMLElement>(of: ParentNode, name: string): T {
  return of.querySelector<T>(`[data-part="${name}"]`)!;
}

export function byId<T extends HTMLElement>(id: string): T {
  return document.getElementById(id) as T;
}

export function made<K extends keyof HTMLElementTagNameMap>(
  name: K,
  set: Partial<HTMLElementTagNameMap[K]> = {},
  children: readonly (Node | string)[] = [],
): HTMLElementTagNameMap[K] {
  const element = Object.assign(document.createElement(name), set);
  element.append(...children);
  return element;
}

/** Left alone where it says that already: what is read aloud is not read again. */
export function say(element: HTMLElement, words: string): void {
  if (element.textContent !== words) element.textContent = words;
}

/** What is typed in at this moment stays as it is. */
export function fill(field: HTMLInputElement | HTMLTextAreaElement, value: string): void {
  if (document.activeElement !== field && field.value !== value) field.value = value;
}

/** A button whose second press counts: the first asks. */
export function onSecondPress(button: HTMLButtonElement, asks: string, act: () => void): void {
  const usual = button.textContent;
  const calm = () => {
    button.textContent = usual;
    button.classList.remove('asks');
  };
  button.addEventListener('blur', calm);
  button.addEventListener('click', () => {
    if (button.classList.contains('asks')) {
      calm();
      act();
      return;
    }
    button.textContent = asks;
    button.classList.add('asks');
  });
}
