/** What is quoted of the plan, between backticks, as code; all other marks stand for themselves. */
export function quotedAsCode(text: string): (Node | string)[] {
  return text.split(/`([^`]+)`/).map((words, index) => {
    if (index % 2 === 0) return words;
    const code = document.createElement('code');
    code.textContent = words;
    return code;
  });
}
