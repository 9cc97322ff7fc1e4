/** The page in the panel. Nothing of a plan is written into it: all that comes in messages, as data. */
import type { PanelText } from './panel-text.ts';

export interface PageNeeds {
  /** Used for this page only; lets our script in and nobody else's. */
  readonly nonce: string;
  readonly script: string;
  readonly style: string;
  /** Where the style may come from. */
  readonly source: string;
  readonly words: PanelText;
  /** The language of the words, as BCP 47 has it. */
  readonly language: string;
}

export function pageHtml({ nonce, script, style, source, words, language }: PageNeeds): string {
  const say = (word: keyof PanelText) => escape(words[word]);
  const policy = `default-src 'none'; style-src ${source}; script-src 'nonce-${nonce}'; img-src data:; worker-src blob:; base-uri 'none'; form-action 'none'`;
  return `<!doctype html>
<html lang="${escape(language)}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${say('page')}</title>
<link rel="stylesheet" href="${style}">
</head>
<body data-words="${escape(JSON.stringify(words))}">
<main id="all" hidden>
<div class="bar">
<div role="tablist" aria-label="${say('views')}" id="views"></div>
<div class="choices">
<label id="shot-label">${say('shot')} <select id="shot"></select></label>
<label id="deliverable-label">${say('deliverable')} <select id="deliverable"></select></label>
<button type="button" id="lit" aria-pressed="false" title="${say('litOrLines')} (L)">${say('asLit')}</button>
<div role="group" aria-label="${say('zoom')}" class="zoom">
<button type="button" id="smaller" aria-label="${say('zoomOut')}" title="${say('zoomOut')} (−)">−</button>
<button type="button" id="fit" title="${say('fit')} (0)">100 %</button>
<button type="button" id="larger" aria-label="${say('zoomIn')}" title="${say('zoomIn')} (+)">+</button>
</div>
<button type="button" id="save" title="${say('saveTo')}">${say('save')}</button>
</div>
</div>
<h1 id="title"></h1>
<p id="note" role="status"></p>
<div id="seen">
<section id="player" aria-label="${say('film')}" hidden>
<p id="no-film"></p>
<div id="film" hidden>
<canvas id="screen" role="img" aria-label="${say('screen')}" width="2" height="2"></canvas>
<input type="range" id="moment" min="0" max="0" step="1" value="0" aria-label="${say('momentOf')}">
<div class="choices">
<button type="button" id="play" title="${say('playOrHold')}">${say('play')}</button>
<button type="button" id="repeat" aria-pressed="false" title="${say('repeatThis')}">${say('repeat')}</button>
<button type="button" id="hush" aria-pressed="false" title="${say('hushThis')}" hidden>${say('hush')}</button>
<button type="button" id="flash" aria-pressed="false" title="${say('flashThis')}" hidden>${say('flash')}</button>
<span id="beat" aria-hidden="true" hidden></span>
<span id="now"></span>
</div>
<p id="spoken" role="status"></p>
<p id="caution" hidden></p>
<p id="pace"></p>
<details>
<summary>${say('playKeys')}</summary>
<p>${say('playKeysAre')}</p>
</details>
<p id="film-notes"></p>
</div>
</section>
<div role="tabpanel" id="picture" tabindex="0" aria-labelledby="title" aria-describedby="description"></div>
</div>
<div class="beside">
<h2 id="findings-head"></h2>
<ul id="findings" aria-labelledby="findings-head"></ul>
<h2 id="parts-head">${say('parts')}</h2>
<ul id="parts" role="listbox" tabindex="0" aria-labelledby="parts-head"></ul>
<details>
<summary>${say('inWords')}</summary>
<p id="description"></p>
</details>
</div>
</main>
<main id="nothing"><h1 id="why">${say('waiting')}</h1></main>
<script nonce="${nonce}" src="${script}"></script>
</body>
</html>
`;
}

/** Translations are text, for elements and attributes. */
function escape(text: string): string {
  return text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);
}
