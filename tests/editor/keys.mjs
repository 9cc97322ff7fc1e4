/** Keys that wait until what they are meant for listens: before, they would go to whatever had the focus. */
const limitMs = 300_000;
/** Then a person clicks into the field: a page that was busy takes the focus late. */
const clicksAfterMs = 5000;

/**
 * The list or question of the workbench, once its field has the focus and holds what it should.
 * @param held what the field holds; without it, whatever the question suggests, selected, so that keys replace it
 */
export async function questionListens(page, held) {
  const field = page.locator('.quick-input-widget .quick-input-box input:focus');
  const listens = await field.waitFor({ timeout: clicksAfterMs }).then(
    () => true,
    () => false,
  );
  if (!listens) await page.locator('.quick-input-widget .quick-input-box input').click({ timeout: limitMs });
  await field.waitFor({ timeout: limitMs });
  for (const end = Date.now() + limitMs; Date.now() < end;) {
    const { value, selected } = await field.evaluate(
      ({ value, selectionStart, selectionEnd }) => ({ value, selected: selectionEnd - selectionStart }),
      undefined,
      { timeout: limitMs },
    );
    if (held === undefined ? selected === value.length : value === held) return;
    await page.waitForTimeout(20);
  }
  throw new Error(`The question does not listen${held === undefined ? '' : ` with ${JSON.stringify(held)} in it`}.`);
}

/** Opens what finds words in the editor, and types them over those that it holds. */
export async function find(page, key, words) {
  await page.keyboard.press(key);
  await page.locator('.find-widget.visible .find-part :is(input, textarea):focus').waitFor({ timeout: limitMs });
  await page.keyboard.press('Control+a');
  await page.keyboard.type(words);
}
