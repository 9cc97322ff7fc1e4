/** The page to try it, which its script fills. */
import { pageHtml } from './shell.ts';

const body = `<main id="try" data-view="text">
<h1 class="unseen">Try Shoot Spec</h1>
<div class="bar">
<label>Plan <select id="file"></select></label>
<button type="button" id="open">Open a file…</button>
<input type="file" id="local" accept=".yaml,.yml,text/yaml" hidden aria-label="A plan of yours">
<button type="button" id="link">Copy a link</button>
<label class="unseen" for="save">Save</label>
<select id="save"><option value="" selected>Save…</option><option value="plan">this file</option><option value="sheet">the sheet</option><option value="client">the plan for the client</option><option value="set">the page for the set</option></select>
<p id="notice" role="status"></p>
</div>
<div class="choose" role="group" aria-label="What is shown">
<button type="button" data-choose="text">Text</button><button type="button" data-choose="findings">Findings <span id="how-many"></span></button><button type="button" data-choose="pictures">Pictures</button>
</div>
<section class="text-side" aria-label="Text"><div id="editor"></div></section>
<section class="findings-side" aria-labelledby="findings-head"><h2 id="findings-head">Findings <span id="count" role="status">Starting…</span></h2><ul id="findings"></ul>
<p class="about">Checked in this browser; nothing you write is sent anywhere. Hover over a word, or press Ctrl+Space for what may stand there and Ctrl+. for fixes. Esc, then Tab leaves the text.</p></section>
<section class="pictures-side" aria-label="Pictures"><iframe id="pictures" src="pictures.html" title="Pictures of the plan"></iframe></section>
<noscript><p>This page needs its scripts. The <a href="rules/index.html">rules</a> and the <a href="format.html">format</a> can be read without.</p></noscript>
</main>`;

/** @param scriptHash SHA-256 in base64 of the script that comes packed */
export function tryPage(scriptHash: string): string {
  return pageHtml({
    title: 'Shoot Spec: plans of product films, checked as you type',
    description: 'Write the plan of a product film as a text and see at once whether it will work.',
    body,
    scripts: ['parts.js', 'start.js'],
    scriptHash,
    here: 'index.html',
    className: 'trying',
  });
}
