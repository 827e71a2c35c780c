/** Who changed what: told in a sentence, opened in place, narrowed, taken out, and nobody's but the owner's. */
import { randomUUID } from 'node:crypto'
import AxeBuilder from '@axe-core/playwright'
import { parse } from 'csv-parse/sync'
import { afterAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'

const ADDRESS = inject('address')
const browser = await launchChromium()
afterAll(() => browser.close())

test('a changed plate stands in the trail in its words, by whom, before and after', async () => {
  const page = await browser.newPage(inject('signedIn').dealer)
  const unit = `A-${randomUUID().slice(0, 8)}`
  await page.goto(`${ADDRESS}/new-vehicle`)
  await page.getByLabel('Stock no.').fill(unit)
  await page.getByLabel('Engine', { exact: true }).selectOption({ label: 'Plover 1.6 turbo petrol' })
  await page.getByLabel('The odometer says').fill('120 000')
  await page.getByRole('button', { name: 'Add it' }).click()
  await page.waitForURL(`**/vehicles/${unit}*`)
  for (const plate of ['AB 12', 'ZZ 77']) {
    await page.goto(`${ADDRESS}/vehicles/${unit}?enter=facts`)
    await page.locator('#enter').getByLabel('Plate').fill(plate)
    const answered = page.waitForResponse((response) => response.request().method() === 'POST')
    await page.locator('#enter button[type=submit]').first().click()
    await answered
  }

  await page.goto(`${ADDRESS}/audit`)
  await page.getByRole('navigation', { name: 'Pages' }).getByRole('link', { name: 'Audit trail' }).waitFor()
  await page.getByLabel('Vehicle, by its number').fill(unit)
  await page.getByRole('button', { name: 'Show' }).click()
  await page.waitForURL(/vehicle=A-/)
  const line = page.locator('summary', { hasText: `changed the plate of ${unit}: AB 12 → ZZ 77` })
  await line.click()
  await page.locator('dd', { hasText: 'before AB 12' }).waitFor()
  expect(await line.locator('strong').textContent()).not.toMatch(/gone|Gudgeon/)
  const { violations } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])

  const csv = await page.request.get(`${ADDRESS}/audit.csv?vehicle=${unit}&what=vehicles`)
  const rows = parse(await csv.text(), { columns: true }) as Record<string, string>[]
  expect(rows.map((row) => row['What was done']!.replace(/ \(.*/, ''))).toEqual([
    `changed the plate of ${unit}: AB 12 → ZZ 77`,
    `changed the plate of ${unit}: nothing → AB 12`,
    `added ${unit}`,
  ])
  await page.goto(`${ADDRESS}/audit?vehicle=none&since=June`)
  await page.getByText('Left out, for it means nothing here: June').waitFor()
  await page.getByText('No line is like that.').waitFor()
  await page.close()
})
