/** What is planted in clips and what is said of it, as a page of the docs: made of the tests, so that it tells what they try. */
export interface Planted {
  readonly rule: string;
  readonly fault: string;
  /** All of what is said, or a part of it. */
  readonly message: string;
  readonly isPart?: boolean;
}

export function plantedPage(title: string, lead: string, all: readonly Planted[]): string {
  const rows = all.map(({ rule, fault, message, isPart }) => {
    const said = isPart ? `… ${message} …` : message;
    return `| [${rule}](../server/rules/takes/${rule}.md) | ${cell(fault)} | ${cell(said)} |`;
  });
  return [`# ${title}`, '', lead, '', '| rule | the clip | what is said |', '| --- | --- | --- |', ...rows, ''].join(
    '\n',
  );
}

function cell(text: string): string {
  return text.replaceAll('|', '\\|').replace(/\s+/g, ' ');
}
