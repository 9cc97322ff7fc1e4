/** The page in the panel. Nothing of a plan is written into it: all that comes in messages, as data. */

export interface PageNeeds {
  /** Used for this page only; lets our script in and nobody else's. */
  readonly nonce: string;
  readonly script: string;
  readonly style: string;
  /** Where the style may come from. */
  readonly source: string;
}

export function pageHtml({ nonce, script, style, source }: PageNeeds): string {
  const policy = `default-src 'none'; style-src ${source}; script-src 'nonce-${nonce}'; base-uri 'none'; form-action 'none'`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Pictures of the plan</title>
<link rel="stylesheet" href="${style}">
</head>
<body>
<main id="all" hidden>
<div class="bar">
<div role="tablist" aria-label="Pictures" id="views"></div>
<div class="choices">
<label id="shot-label">Shot <select id="shot"></select></label>
<label id="deliverable-label">Deliverable <select id="deliverable"></select></label>
<div role="group" aria-label="Zoom" class="zoom">
<button type="button" id="smaller" aria-label="Zoom out" title="Zoom out (−)">−</button>
<button type="button" id="fit" title="As wide as the panel (0)">100 %</button>
<button type="button" id="larger" aria-label="Zoom in" title="Zoom in (+)">+</button>
</div>
<button type="button" id="save" title="Write this picture to a file">Save…</button>
</div>
</div>
<h1 id="title"></h1>
<p id="note" role="status"></p>
<div role="tabpanel" id="picture" tabindex="0" aria-labelledby="title" aria-describedby="description"></div>
<h2 id="findings-head"></h2>
<ul id="findings" aria-labelledby="findings-head"></ul>
<h2 id="parts-head">What is drawn, and where it is written</h2>
<ul id="parts" role="listbox" tabindex="0" aria-labelledby="parts-head"></ul>
<details>
<summary>The picture in words</summary>
<p id="description"></p>
</details>
</main>
<main id="nothing"><h1 id="why">Waiting for the plan</h1></main>
<script nonce="${nonce}" src="${script}"></script>
</body>
</html>
`;
}
