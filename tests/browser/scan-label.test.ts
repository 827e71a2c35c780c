/** A label before the camera: a film of one is what the browser's camera sees, and the page reads it by itself. */
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import AxeBuilder from '@axe-core/playwright'
import type { Browser, Page } from 'playwright-core'
import { afterAll, afterEach, expect, inject, test } from 'vitest'
import { CAMERA_REFUSED, NEEDS_RECEPTION, NOT_OURS } from '@/app/(people)/at/at-words'
import { launchChromium } from './chromium'
import { filmCode } from './filmed-code'

const ADDRESS = inject('address')
const films = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-films-'))
afterAll(() => fs.rmSync(films, { recursive: true }))
let browser: Browser
afterEach(() => browser.close())

/** A phone whose camera sees a label; `null`: one without a camera. */
async function phoneSeeing(text: string | null): Promise<Page> {
  const film = path.join(films, 'label.y4m')
  if (text !== null) filmCode(text, film)
  const camera = [
    '--use-fake-ui-for-media-stream',
    '--use-fake-device-for-media-stream',
    `--use-file-for-fake-video-capture=${film}`,
  ]
  browser = await launchChromium(text === null ? [] : camera)
  const phone = await browser.newContext({
    ...inject('signedIn').fleet,
    ...{ viewport: { width: 390, height: 844 }, hasTouch: true },
  })
  const page = await phone.newPage()
  await page.goto(`${ADDRESS}/at`)
  await page.getByText('This page opens without reception').waitFor()
  return page
}

const scan = (page: Page) => page.getByRole('button', { name: 'Scan its label' }).click()

async function aVehicle(): Promise<string> {
  const asked = await fetch(`${ADDRESS}/at.json`, { headers: { Cookie: cookieOf('fleet') } })
  const { vehicles } = (await asked.json()) as { vehicles: { unit: string }[] }
  return vehicles[0]!.unit
}

const cookieOf = (person: 'fleet') =>
  inject('signedIn')
    [person].storageState.cookies.map(({ name, value }) => `${name}=${value}`)
    .join('; ')

test('with a vehicle’s address on it opens that vehicle, whatever the product was called when it was printed', async () => {
  const unit = await aVehicle()
  const page = await phoneSeeing(`https://workshop.example/at/${encodeURIComponent(unit)}`)
  await scan(page)
  await page.getByRole('heading', { name: unit }).waitFor()
  expect(new URL(page.url()).pathname).toBe(`/at/${encodeURIComponent(unit)}`)
})

test('that is none of ours is said to be none, and one looks on until it is stopped', async () => {
  const page = await phoneSeeing('https://elsewhere.example/menu')
  await scan(page)
  await page.getByText(NOT_OURS).waitFor()
  const { violations } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
  expect(await page.getByLabel('What the camera sees').count()).toBe(1)
  await page.getByRole('button', { name: 'Stop looking' }).click()
  expect(await page.getByLabel('What the camera sees').count()).toBe(0)
})

test('with a key alone needs reception, and is read without it', async () => {
  const page = await phoneSeeing(`https://workshop.example/q/${'A'.repeat(64)}`)
  await page.context().setOffline(true)
  await page.goto(`${ADDRESS}/at`)
  await page.getByText('No reception').waitFor()
  await scan(page)
  await page.getByText(NEEDS_RECEPTION).waitFor()
})

test('is typed where there is no camera', async () => {
  const page = await phoneSeeing(null)
  await scan(page)
  await page.getByText(CAMERA_REFUSED).waitFor()
})
