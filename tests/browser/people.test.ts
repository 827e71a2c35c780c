import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { launchChromium } from './chromium'
import { fillInFirstOwner, PASSWORD } from './first-owner'
import { enterByDemoDoor, type Product, startProduct } from './product'

const browser = await launchChromium()
afterAll(() => browser.close())
const address = inject('address')

const summary = (page: Page) => page.getByText('This has to be mended first:').locator('..')
const organisation = (page: Page) => page.locator('header p').first().textContent()

describe('the demo door', () => {
  test('a page that is asked for without a session leads to the door, and is come back to', async () => {
    const page = await browser.newPage()
    await page.goto(`${address}/families?distance=mi`)
    expect(new URL(page.url()).pathname).toBe('/door')
    const people = page.getByRole('region', { name: 'Look around' }).getByRole('button')
    expect(await people.count()).toBe(3)
    await people.nth(1).click()
    await page.waitForURL(`${address}/families?distance=mi`)
    await page.close()
  })

  test.each([
    '//elsewhere.example',
    'https://elsewhere.example/',
    '/\\elsewhere.example',
    'javascript:alert(1)',
  ])('nobody is led to %s', async (from) => {
    const page = await browser.newPage()
    await page.goto(`${address}/door?from=${encodeURIComponent(from)}`)
    await page.getByRole('region', { name: 'Look around' }).getByRole('button').first().click()
    await page.waitForURL(`${address}/`)
    await page.close()
  })

  test('an organisation of one’s own begins empty and leads on; what was typed is kept until it is right', async () => {
    const page = await browser.newPage()
    await page.goto(`${address}/door`)
    await page.getByLabel('Name of the organisation').fill('Heath Vans')
    await page.getByRole('button', { name: 'Start it' }).click()
    await summary(page).waitFor()
    expect(await summary(page).evaluate((element) => element === document.activeElement)).toBe(true)
    expect(await page.title()).toMatch(/^Error: /)
    expect(await summary(page).getByRole('link').count()).toBe(2)
    expect(await page.getByLabel('Name of the organisation').inputValue()).toBe('Heath Vans')
    await page.getByLabel('Currency').selectOption('SEK')
    await page.getByLabel('Your name').fill('Tess')
    await page.getByRole('button', { name: 'Start it' }).click()
    await page.waitForURL(`${address}/`)
    expect(await organisation(page)).toBe('Heath Vans')
    const main = page.getByRole('main')
    expect(await main.getByRole('link', { name: 'Bring in records' }).count()).toBe(1)
    expect(await main.getByRole('link', { name: /engine family/ }).count()).toBe(1)
    await page.close()
  })

  test('works without script', async () => {
    const context = await browser.newContext({ javaScriptEnabled: false })
    const page = await context.newPage()
    await page.goto(`${address}/door?from=/settings`)
    await page.getByLabel('Your name').fill('No Script')
    await page.getByRole('button', { name: 'Start it' }).click()
    await summary(page).waitFor()
    expect(await summary(page).getByRole('link').count()).toBe(2)
    expect(await page.getByLabel('Your name').inputValue()).toBe('No Script')
    await page.getByRole('region', { name: 'Look around' }).getByRole('button').first().click()
    await page.waitForURL(`${address}/settings`)
    await page.locator('summary').first().click()
    await page.getByRole('button', { name: 'Sign out', exact: true }).click()
    await page.waitForURL(`${address}/door`)
    await context.close()
  })
})

test('signing out ends the session, not the cookie alone', async () => {
  const { storageState } = await enterByDemoDoor(browser, address)
  const page = await browser.newPage({ storageState })
  await page.goto(address)
  await page.locator('summary').first().click()
  await page.getByRole('button', { name: 'Sign out', exact: true }).click()
  await page.waitForURL(`${address}/door`)
  const withOldCookie = await browser.newPage({ storageState })
  await withOldCookie.goto(`${address}/settings`)
  expect(new URL(withOldCookie.url()).pathname).toBe('/door')
  await Promise.all([page.close(), withOldCookie.close()])
})

test('what belongs to another organisation is not there, whatever the cookie names', async () => {
  const started = await startDatabase({ home: inject('home') })
  const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
  const [, foreign] = await readOrganisations(database)
  const [vehicle] = await withOrganisation(
    database,
    organisationId(foreign!.id),
    ({ tx }) => tx.$queryRaw<{ unit: string }[]>`select unit from vehicles order by unit desc limit 1`,
  )
  await database.$disconnect()
  await started.stop()

  const context = await browser.newContext(inject('signedIn').fleet)
  await context.addCookies([{ name: 'gudgeon.organisation', value: foreign!.id, url: address }])
  const page = await context.newPage()
  const answer = await page.goto(`${address}/vehicles/${encodeURIComponent(vehicle!.unit)}`)
  expect(answer?.status()).toBe(404)
  await page.goto(address)
  expect(await organisation(page)).not.toBe(foreign!.name)
  await context.close()
})

test('settings: a token is shown once and can be revoked; a wrong price is said at its field', async () => {
  const page = await browser.newPage(inject('signedIn').fleet)
  await page.goto(`${address}/settings`)
  await page.getByLabel('What will use it').fill('tracker')
  await page.getByRole('button', { name: 'Make it' }).click()
  const token = page.locator('code', { hasText: /^gudgeon_/ })
  await token.waitFor()
  const text = await token.textContent()
  const asked = () =>
    fetch(`${address}/api/v1/vehicles?limit=1`, { headers: { authorization: `Bearer ${text}` } })
  expect((await asked()).status).toBe(200)
  await page.reload()
  expect(await token.count()).toBe(0)
  await page.getByRole('button', { name: 'Revoke tracker' }).click()
  await page.getByText(/^revoked /).waitFor()
  expect((await asked()).status).toBe(401)
  const terms = page.locator('section[aria-labelledby=terms]')
  const labour = terms.getByLabel('An hour of labour')
  await labour.fill('ninety')
  await terms.getByRole('button', { name: 'Keep' }).click()
  await summary(page).waitFor()
  expect(await labour.getAttribute('aria-invalid')).toBe('true')
  expect(await labour.inputValue()).toBe('ninety')
  await page.close()
})

test.each([
  { path: '/settings', status: 307 },
  { path: '/door', status: 200 },
  { path: '/no-such-page', status: 404 },
  { path: '/api/none', status: 404 },
  { path: '/_next/none', status: 404 },
  { path: '/%E0%A4%A', status: 404 },
])('$path is answered with $status and a policy that lets nothing be evaluated', async ({ path, status }) => {
  const answer = await fetch(`${address}${path}`, { redirect: 'manual' })
  expect(answer.status).toBe(status)
  const policy = answer.headers.get('content-security-policy') ?? ''
  expect(policy).toMatch(/default-src '(self|none)'/)
  expect(policy).not.toContain('unsafe-eval')
  expect(answer.headers.get('x-content-type-options')).toBe('nosniff')
})

describe('a server without the demo', () => {
  const home = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-people-'))
  let product: Product
  beforeAll(async () => {
    fs.chmodSync(home, 0o755)
    product = await startProduct(home, { GUDGEON_DEMO: 'no' })
  })
  afterAll(async () => {
    await product.end()
    fs.rmSync(home, { recursive: true, force: true })
  })

  test('keeps the secret that signs its sessions to itself', () => {
    expect(fs.statSync(path.join(home, 'sign-in.secret')).mode & 0o777).toBe(0o600)
    expect(product.said()).not.toContain(fs.readFileSync(path.join(home, 'sign-in.secret'), 'utf8'))
  })

  test('asks for its first owner once, who comes in again by mail and password', async () => {
    const page = await browser.newPage()
    await page.goto(product.address)
    await fillInFirstOwner(page, 'Marsh Garage', 'Wren')
    await page.getByLabel('Password').fill('too short')
    await page.getByRole('button', { name: 'Start it' }).click()
    await summary(page).waitFor()
    expect(await summary(page).textContent()).toContain('12 characters')
    expect(await page.getByLabel('Password').inputValue()).toBe('')
    await page.getByLabel('Password').fill(PASSWORD)
    await page.getByRole('button', { name: 'Start it' }).click()
    await page.waitForURL(`${product.address}/`)
    expect(await organisation(page)).toBe('Marsh Garage')

    await page.locator('summary').first().click()
    await page.getByRole('button', { name: 'Sign out everywhere' }).click()
    await page.waitForURL(`${product.address}/door`)
    expect(await page.getByRole('button', { name: 'Start it' }).count()).toBe(0)
    const signIn = async (mail: string, password: string) => {
      await page.getByLabel('Mail address').fill(mail)
      await page.getByLabel('Password').fill(password)
      await page.getByRole('button', { name: 'Sign in' }).click()
    }
    const refusal = async () => {
      await summary(page).waitFor()
      return summary(page).textContent()
    }
    await signIn('nobody@example.invalid', PASSWORD)
    const unknown = await refusal()
    expect(await page.getByLabel('Mail address').inputValue()).toBe('nobody@example.invalid')
    await page.goto(`${product.address}/door`)
    await signIn('wren@example.invalid', 'another few words')
    expect(await refusal()).toBe(unknown)
    await page.goto(`${product.address}/door`)
    await signIn('wren@example.invalid', PASSWORD)
    await page.waitForURL(`${product.address}/`)
    await page.close()

    for (const event of ['sign-in failed', 'sign-in succeeded', 'session ended'])
      expect(product.said()).toContain(`"event":"${event}"`)
    for (const word of [/wren/i, /marsh/i, /nobody@/, /few words/]) expect(product.said()).not.toMatch(word)
  })
})
