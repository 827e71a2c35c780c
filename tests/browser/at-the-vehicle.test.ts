import { randomUUID } from 'node:crypto'
import { afterAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'

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
