import { randomUUID } from 'node:crypto'
import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, expect, inject, test } from 'vitest'
import { NOTHING_TAKEN_ALONG } from '@/app/(people)/at/at-words'
import { launchChromium } from './chromium'
import { enterByDemoDoor } from './product'

const ADDRESS = inject('address')
const UNIT = `P-${randomUUID().slice(0, 8)}`
const browser = await launchChromium()
afterAll(() => browser.close())

test('what is entered without reception outlives the page, is sent once, and says by how much the score moved', async () => {
  const phone = await browser.newContext({
    ...inject('signedIn').dealer,
    ...{ viewport: { width: 390, height: 844 }, hasTouch: true },
    // Not the organisation's: its days are the ones that count.
    timezoneId: 'Pacific/Kiritimati',
  })
  let page = await phone.newPage()
  await page.goto(`${ADDRESS}/new-vehicle`)
  await page.getByLabel('Stock no.').fill(UNIT)
  await page.getByLabel('Engine', { exact: true }).selectOption({ label: 'Plover 1.6 turbo petrol' })
  await page.getByLabel('The odometer says').fill('120 000')
  await page.getByRole('button', { name: 'Add it' }).click()
  await page.waitForURL(`**/vehicles/${UNIT}*`)
  await page.goto(`${ADDRESS}/at`)
  await page.getByText('This page opens without reception').waitFor()
  const sent: string[] = []
  phone.on('request', (request) => {
    if (request.url().endsWith('/at-entries')) sent.push(request.method())
  })

  await phone.setOffline(true)
  await page.goto(`${ADDRESS}/at/${UNIT}`)
  await page.getByText('No reception').waitFor()
  await page.getByRole('link', { name: /^Codes/ }).click()
  await page.getByLabel('Trouble codes').fill('scan report\np0302 misfire')
  await page.getByRole('button', { name: 'Enter the codes' }).click()
  const entries = page.getByRole('region', { name: 'Entered on this phone' }).getByRole('listitem')
  await entries.getByText('On this phone only, not sent yet').waitFor()

  await page.close()
  page = await phone.newPage()
  await page.goto(`${ADDRESS}/at/${UNIT}`)
  await page.getByText('On this phone only, not sent yet').waitFor()
  const arrived = sent.length
  await phone.setOffline(false)
  await page
    .getByText(/about .+ → about .+ within 90 days/)
    .first()
    .waitFor()
  expect(sent.length).toBe(arrived + 1)
  await page.getByRole('link', { name: /See it on the vehicle/ }).click()
  await page.waitForURL(`**/vehicles/${UNIT}*`)
  expect(await page.getByRole('row').filter({ hasText: 'P0302' }).count()).toBe(1)
  await phone.close()
})

/** What this browser keeps of vehicles, by number. */
const takenAlong = (page: Page) =>
  page.evaluate(
    () =>
      new Promise<string[]>((resolve, reject) => {
        const opening = indexedDB.open('gudgeon-at-the-vehicle')
        opening.onerror = () => reject(opening.error)
        opening.onsuccess = () => {
          const asked = opening.result.transaction('known').objectStore('known').get('known')
          asked.onsuccess = () => {
            opening.result.close()
            resolve(asked.result.vehicles.map(({ unit }: { unit: string }) => unit))
          }
        }
      }),
  )

test('signed out, a phone knows no vehicle any more, and still holds what was not sent', async () => {
  const own = await enterByDemoDoor(browser, ADDRESS, 'dealer')
  const phone = await browser.newContext({ ...own, viewport: { width: 390, height: 844 }, hasTouch: true })
  const page = await phone.newPage()
  await page.goto(`${ADDRESS}/at`)
  await page.getByText('This page opens without reception').waitFor()
  const [unit] = await takenAlong(page)
  expect(unit).toBeDefined()

  await phone.setOffline(true)
  await page.goto(`${ADDRESS}/at/${unit}?do=codes`)
  await page.getByLabel('Trouble codes').fill('p0302')
  await page.getByRole('button', { name: 'Enter the codes' }).click()
  await page.getByText('On this phone only, not sent yet').waitFor()

  // The session ends elsewhere; the phone hears of it when it is in touch.
  await phone.clearCookies()
  await phone.setOffline(false)
  await page.getByRole('link', { name: 'Sign in again' }).waitFor()
  await expect.poll(() => takenAlong(page)).toEqual([])
  expect(await page.getByText('On this phone only, not sent yet').count()).toBe(1)
  expect(await page.getByLabel('Trouble codes').count()).toBe(0)
  const { violations } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
  await page.getByRole('button', { name: /Throw it away/ }).click()
  await phone.close()
})

test('at the door a browser forgets what it took along', async () => {
  const phone = await browser.newContext(await enterByDemoDoor(browser, ADDRESS, 'shop'))
  const page = await phone.newPage()
  await page.goto(`${ADDRESS}/at`)
  await page.getByText('This page opens without reception').waitFor()
  expect((await takenAlong(page)).length).toBeGreaterThan(0)
  await page.goto(`${ADDRESS}/families`)
  await page.locator('summary').filter({ hasText: /./ }).last().waitFor()
  await page
    .getByRole('button', { name: 'Sign out', exact: true, includeHidden: true })
    .dispatchEvent('click')
  await page.waitForURL(`${ADDRESS}/door*`)
  await expect.poll(() => takenAlong(page)).toEqual([])
  await phone.setOffline(true)
  await page.goto(`${ADDRESS}/at`)
  await page.getByText(NOTHING_TAKEN_ALONG).waitFor()
  expect(await page.getByText('vehicles are on this phone').count()).toBe(0)
  await phone.close()
})
