/** Who changed what: told in a sentence, opened in place, narrowed, taken out. What is known of a customer: taken out, and erased. */
import { randomUUID } from 'node:crypto'
import AxeBuilder from '@axe-core/playwright'
import { parse } from 'csv-parse/sync'
import type { Locator, Page } from 'playwright-core'
import { afterAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'

const ADDRESS = inject('address')
const browser = await launchChromium()
afterAll(() => browser.close())

/** Makes a vehicle of one's own. */
async function aVehicle(page: Page): Promise<string> {
  const unit = `A-${randomUUID().slice(0, 8)}`
  await page.goto(`${ADDRESS}/new-vehicle`)
  await page.getByLabel('Stock no.').fill(unit)
  await page.getByLabel('Engine', { exact: true }).selectOption({ label: 'Plover 1.6 turbo petrol' })
  await page.getByLabel('The odometer says').fill('120 000')
  await page.getByRole('button', { name: 'Add it' }).click()
  await page.waitForURL(`**/vehicles/${unit}*`)
  return unit
}

/** Sends a form, and waits for the answer. */
async function send(page: Page, button: Locator): Promise<void> {
  const answered = page.waitForResponse((response) => response.request().method() === 'POST')
  await button.click()
  await answered
}

const violationsOf = async (page: Page) =>
  (await new AxeBuilder({ page }).analyze()).violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)

test('a changed plate stands in the trail in its words, by whom, before and after', async () => {
  const page = await (await browser.newContext(inject('signedIn').dealer)).newPage()
  const unit = await aVehicle(page)
  for (const plate of ['AB 12', 'ZZ 77']) {
    await page.goto(`${ADDRESS}/vehicles/${unit}?enter=facts`)
    await page.locator('#enter').getByLabel('Plate').fill(plate)
    await send(page, page.locator('#enter button[type=submit]').first())
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
  expect(await violationsOf(page)).toEqual([])

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

test('what is known of a customer is taken out as a file, and erased once that is meant', async () => {
  const page = await (await browser.newContext(inject('signedIn').dealer)).newPage()
  const [unit, name] = [await aVehicle(page), `Tilda ${randomUUID().slice(0, 8)}`]
  await page.goto(`${ADDRESS}/vehicles/${unit}?enter=owner`)
  const owner = page.locator('#enter')
  await owner.getByLabel(/put right/).check()
  await owner.getByLabel('Whose it is').fill(name)
  await owner.getByLabel('How to reach them').fill('tilda@post.example')
  await send(page, owner.getByRole('button', { name: 'Change whose it is' }))
  await page.goto(`${ADDRESS}/vehicles/${unit}?enter=owner`)
  await page.getByRole('link', { name: 'what is known of this customer', exact: true }).click()
  await page.getByRole('heading', { level: 1, name }).waitFor()
  expect(await violationsOf(page)).toEqual([])
  const file = await page.request.get(
    `${ADDRESS}/customer.json?name=${encodeURIComponent(name.toUpperCase())}`,
  )
  expect(await file.json()).toMatchObject({ vehicles: [{ unit }], customer: { names: [name] } })

  await page.getByRole('button', { name: 'Erase this customer' }).click()
  await page.getByText(/will be gone from every row/).waitFor()
  expect((await page.request.get(file.url())).status()).toBe(200)
  await page.getByRole('button', { name: 'Erase it for good' }).click()
  await page.getByText(/^Erased\. Where the name stood/).waitFor()
  expect((await page.request.get(file.url())).status()).toBe(404)
  await page.goto(`${ADDRESS}/vehicles/${unit}`)
  await page
    .getByText(/erased-[0-9a-f]{8}/)
    .first()
    .waitFor()
  await page.goto(`${ADDRESS}/audit?what=erasures`)
  await page
    .getByText(/erased everything known of a customer \(erased-/)
    .first()
    .waitFor()
  await page.goto(`${ADDRESS}/audit?vehicle=${unit}`)
  expect(await page.content()).not.toMatch(/Tilda|tilda@/)
  await page.close()
})
