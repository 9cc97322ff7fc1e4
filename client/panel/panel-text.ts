/** What the page of the panel says of itself, in the editor's language. The page puts something in the place of braces. */

export type PanelText = ReturnType<typeof panelTextOf>;

/** @param l10n the editor's translations, or for tests none */
export function panelTextOf(l10n: { t(text: string): string }) {
  return {
    page: l10n.t('Pictures of the plan'),
    waiting: l10n.t('Waiting for the plan'),
    views: l10n.t('Pictures'),
    shot: l10n.t('Shot'),
    atCursor: l10n.t('where the cursor is'),
    atCursorIn: l10n.t('where the cursor is ({0})'),
    deliverable: l10n.t('Deliverable'),
    allDeliverables: l10n.t('all'),
    asLit: l10n.t('As lit'),
    litOrLines: l10n.t('The frame with its light as the camera will see it, or as lines'),
    zoom: l10n.t('Zoom'),
    zoomOut: l10n.t('Zoom out'),
    zoomIn: l10n.t('Zoom in'),
    fit: l10n.t('As wide as the panel'),
    zoomed: l10n.t('Zoom {0} %: back to the width of the panel'),
    save: l10n.t('Save…'),
    saveTo: l10n.t('Write this picture to a file'),
    old: l10n.t("{0} can't be read just now. This is drawn from what it said before."),
    noFinding: l10n.t('No finding is seen in this picture'),
    oneFinding: l10n.t('1 finding is seen in this picture'),
    findings: l10n.t('{0} findings are seen in this picture'),
    goTo: l10n.t('Go to it in the text'),
    error: l10n.t('Error'),
    warning: l10n.t('Warning'),
    info: l10n.t('Note'),
    hint: l10n.t('Hint'),
    parts: l10n.t('What is drawn, and where it is written'),
    inWords: l10n.t('The picture in words'),
  };
}

export function put(into: string, value: string | number): string {
  return into.replaceAll('{0}', () => String(value));
}
