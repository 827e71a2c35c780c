import type { Page } from 'playwright-core'

export const PASSWORD = 'a few words together'

/** Fills in who starts an organisation on a server without the demo, but for the password. */
export async function fillInFirstOwner(page: Page, organisation: string, name: string): Promise<void> {
  await page.getByLabel('Name of the organisation').fill(organisation)
  await page.getByLabel('Currency').selectOption('EUR')
  await page.getByLabel('Your name').fill(name)
  await page.getByLabel('Mail address').fill(`${name.toLowerCase()}@example.invalid`)
}
