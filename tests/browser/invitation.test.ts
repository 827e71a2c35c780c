/** From an invitation to a member, and out again: as two people in two browsers. */
import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'

const browser = await launchChromium()
afterAll(() => browser.close())
const address = inject('address')

const PASSWORD = 'long enough to count'
const VIEWPORT = { width: 1280, height: 900 }

/** Axe finds nothing on a page, in a phone's width either. */
async function expectAccessible(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
  await page.setViewportSize({ width: 390, height: 844 })
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390)
  await page.setViewportSize(VIEWPORT)
}

/** The owner of an organisation of their own, on the page of its people. */
async function anOwnersPage(organisation: string): Promise<Page> {
  const page = await (await browser.newContext({ viewport: VIEWPORT })).newPage()
  await page.goto(`${address}/door`)
  await page.getByLabel('Name of the organisation').fill(organisation)
  await page.getByLabel('Currency').selectOption('SEK')
  await page.getByLabel('Your name').fill('Owner of it')
  await page.getByRole('button', { name: 'Start it' }).click()
  await page.waitForURL(`${address}/`)
  await page.goto(`${address}/settings/people`)
  return page
}

/** Invites somebody and answers the link that the owner is shown. */
async function invite(owner: Page, mail: string): Promise<string> {
  await owner.getByLabel('Mail address').fill(mail)
  await owner.getByLabel('What they may do').selectOption('technician')
  await owner.getByRole('button', { name: 'Invite', exact: true }).click()
  const link = await owner.locator('code', { hasText: '/invitation/' }).textContent()
  await owner.getByRole('cell', { name: /waits until/ }).waitFor()
  return link ?? ''
}

async function join(page: Page, name: string): Promise<void> {
  await page.getByLabel('Your name').fill(name)
  await page.getByLabel('Password').fill(PASSWORD)
  await page.getByRole('button', { name: 'Join' }).click()
  await page.waitForURL(`${address}/`)
}

async function signIn(page: Page, mail: string, password: string): Promise<void> {
  await page.goto(`${address}/door`)
  const form = page.getByRole('region', { name: 'Sign in' })
  await form.getByLabel('Mail address').fill(mail)
  await form.getByLabel('Password').fill(password)
  await form.getByRole('button', { name: 'Sign in' }).click()
}

test('invited, joined, held to the role, removed, and out at once', async () => {
  const owner = await anOwnersPage('Inviting Fleet')
  const link = await invite(owner, 'bo@mill.example')
  await expectAccessible(owner)

  const context = await browser.newContext({ viewport: VIEWPORT })
  const bo = await context.newPage()
  await bo.goto(link)
  await expectAccessible(bo)
  await bo.getByRole('button', { name: 'Join' }).click()
  await bo.getByRole('alert').getByRole('link').first().waitFor()
  await join(bo, 'Bo')
  expect(await bo.locator('header p').first().textContent()).toBe('Inviting Fleet')
  const statusOf = async (path: string) => (await bo.goto(`${address}${path}`))?.status()
  expect(await statusOf('/new-vehicle')).toBe(200)
  expect(await statusOf('/families/new')).toBe(403)
  expect(await statusOf('/settings/people')).toBe(403)
  await bo.goto(link)
  expect(await bo.getByRole('heading').textContent()).toContain('accepted already')

  await owner.reload()
  await owner.getByLabel('Role of Bo').selectOption('planner')
  await owner.getByRole('row', { name: /^Bo / }).getByRole('button', { name: 'Change' }).click()
  await owner.getByText('it holds at once').waitFor()
  expect(await statusOf('/families/new')).toBe(200)
  await owner.getByRole('button', { name: 'Sign Bo out …' }).click()
  await owner.getByRole('button', { name: 'Sign Bo out', exact: true }).click()
  await owner.getByText('Signed out: 1 session ended.').waitFor()
  await bo.goto(`${address}/`)
  expect(new URL(bo.url()).pathname).toBe('/door')
  await signIn(bo, 'bo@mill.example', PASSWORD)
  await bo.waitForURL(`${address}/`)
  await owner.getByRole('button', { name: 'Remove Bo …' }).click()
  await owner.getByRole('button', { name: 'Remove Bo', exact: true }).click()
  await owner.getByRole('rowheader', { name: 'Bo', exact: true }).waitFor({ state: 'detached' })
  await bo.goto(`${address}/`)
  expect(new URL(bo.url()).pathname).toBe('/door')
  await Promise.all([owner.context().close(), context.close()])
})

test('somebody ends a session of theirs elsewhere, and chooses another password', async () => {
  const owner = await anOwnersPage('Sessions Fleet')
  const [here, there] = [await browser.newContext({ viewport: VIEWPORT }), await browser.newContext()]
  const [cy, elsewhere] = [await here.newPage(), await there.newPage()]
  await cy.goto(await invite(owner, 'cy@mill.example'))
  await join(cy, 'Cy')
  const enter = (password: string) => signIn(elsewhere, 'cy@mill.example', password)
  await enter(PASSWORD)
  await elsewhere.waitForURL(`${address}/`)

  await cy.locator('summary').first().click()
  await cy.getByRole('link', { name: 'You' }).click()
  await cy.waitForURL(`${address}/settings/you`)
  await expectAccessible(cy)
  expect(await cy.getByRole('cell', { name: 'this one' }).count()).toBe(1)
  const ending = cy.getByRole('region', { name: 'Your sessions' })
  expect(await ending.getByLabel('Session to end').textContent()).toMatch(/ on Linux, since /)
  await ending.getByLabel('Your password').fill('not the password')
  await ending.getByRole('button', { name: 'End it' }).click()
  await ending.getByRole('alert').waitFor()
  await ending.getByLabel('Your password').fill(PASSWORD)
  await ending.getByRole('button', { name: 'End it' }).click()
  await ending.getByText('Ended: whoever was there').waitFor()
  expect(await ending.getByLabel('Session to end').count()).toBe(0)
  await elsewhere.goto(`${address}/`)
  expect(new URL(elsewhere.url()).pathname).toBe('/door')

  await cy.getByLabel('Password until now').fill(PASSWORD)
  await cy.getByLabel('New password').fill('another that is long enough')
  await cy.getByRole('button', { name: 'Change it' }).click()
  await cy.getByText('Your new password stands').waitFor()
  await enter(PASSWORD)
  await elsewhere.getByText('do not go together').waitFor()
  await enter('another that is long enough')
  await elsewhere.waitForURL(`${address}/`)
  await Promise.all([owner.context().close(), here.close(), there.close()])
})
