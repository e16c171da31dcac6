import AxeBuilder from '@axe-core/playwright';
import type { Page } from 'playwright/test';

/** Violations of WCAG 2.0 to 2.2, A and AA, that axe can see. */
export async function violations(page: Page, without: string[] = []): Promise<string[]> {
  // The editor's own inside is not ours to change.
  const { violations: found } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
    .exclude('.monaco-editor')
    .disableRules(without)
    .analyze();
  return found.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html.slice(0, 160)}`));
}
