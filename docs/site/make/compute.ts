/** Every computation as a form, filled in with its example and answered. */
import { run, topics } from '../../../server/compute/index.ts';
import { spoken } from '../../../server/compute/text.ts';
import type { AnyTopic, Key } from '../../../server/compute/topic.ts';
import { escaped, pageHtml } from './shell.ts';

export function computePage(): string {
  const to = topics.map(({ id }) => `<a href="#${id}">${id}</a>`).join('');
  const lead =
    '<h1>Compute</h1><p>One thing at a time, with its formula and source. Values are written as in plans: ' +
    'a number and its unit. Nothing leaves this page.</p>';
  return pageHtml({
    title: 'Compute · Shoot Spec',
    description: 'Small computations for product films, each with its formula and published source.',
    body: `<main class="text compute">${lead}<nav class="to" aria-label="Computations">${to}</nav>${topics.map(topicHtml).join('')}</main>`,
    scripts: ['compute.js'],
    here: 'compute.html',
  });
}

function topicHtml(topic: AnyTopic): string {
  const { id, summary, formula, source } = topic;
  const fields = (Object.entries(topic.keys) as [string, Key<unknown>][]).map(([name, key]) => fieldHtml(topic, name, key));
  return `<section id="${id}" aria-labelledby="${id}-head"><h2 id="${id}-head">${id}</h2><p>${escaped(summary)}.</p>
<form data-topic="${id}" autocomplete="off">${fields.join('')}<output aria-label="Answer">${answerHtml(topic)}</output></form>
<p class="formula">${escaped(formula)}</p><p class="about">${escaped(source)}</p></section>`;
}

function fieldHtml(topic: AnyTopic, name: string, key: Key<unknown>): string {
  const id = `${topic.id}-${name}`;
  const isOptional = key.need === 'optional' || key.otherwise !== undefined;
  const value = valuesOf(topic, name).join('; ');
  const label = `<label for="${id}">${name}<small>${escaped(key.meaning)}</small></label>`;
  if (key.words) {
    const options = [...(isOptional ? [''] : []), ...key.words].map(
      (word) => `<option${word === value ? ' selected' : ''}>${escaped(word)}</option>`,
    );
    return `<p>${label}<select id="${id}" name="${name}">${options.join('')}</select></p>`;
  }
  const hint = escaped(isOptional ? (key.otherwise ?? '') : key.example);
  const several = key.need === 'several' ? ' data-several' : '';
  return `<p>${label}<input id="${id}" name="${name}" value="${escaped(value)}" placeholder="${hint}"${several} spellcheck="false"></p>`;
}

/** What the example says, as a plan writes it. */
function valuesOf({ example }: AnyTopic, name: string): string[] {
  return example.flatMap((word) => {
    if (word === name) return ['yes'];
    return word.startsWith(`${name}=`) ? [word.slice(name.length + 1).replace(/(\d)(?=(?:mm|cm|m|s|K|lx|Hz|W|V|Mb|dB|fps)\b)/g, '$1 ')] : [];
  });
}

function answerHtml(topic: AnyTopic): string {
  const answer = run(topic.id, topic.example);
  if ('problem' in answer) throw new Error(`${topic.id}: ${answer.problem}`);
  const rows = spoken(answer).map(([meaning, value]) => `<dt>${escaped(meaning)}</dt><dd>${escaped(value)}</dd>`);
  return `<dl>${rows.join('')}</dl>${answer.notes.map((note) => `<p>${escaped(note)}</p>`).join('')}`;
}
