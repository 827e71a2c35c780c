import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import net from 'node:net'
import os from 'node:os'
import path from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { newTokenSecret, writeTokenText } from '@/lib/people/token-text'
import { startEmbeddedServer } from '@/lib/store/inner/embedded-server'
import { runSql } from '../store/test-database'
import { launchChromium } from './chromium'
import { freePort, startProduct } from './product'

const home = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-gone-'))
fs.chmodSync(home, 0o755)
afterAll(() => fs.rmSync(home, { recursive: true, force: true }))

/** It has the form of a token, so that it is looked up; nobody was given it. */
const TOKEN = writeTokenText({ organisation: randomUUID(), id: randomUUID(), secret: newTokenSecret() })

/** What PostgreSQL says of a file that it cannot make longer, said by a trigger of the table. */
const FULL = [
  `create function no_room() returns trigger language plpgsql as $$
   begin
     raise exception 'could not extend file "base/1": No space left on device' using errcode = 'disk_full';
   end $$`,
  ...['organisations', 'memberships'].map(
    (table) => `create trigger no_room before update on ${table} for each row execute function no_room()`,
  ),
  // What is noted of whoever comes is due again.
  'alter table memberships disable trigger no_room',
  "update memberships set last_seen_at = now() - interval '1 day'",
  'alter table memberships enable trigger no_room',
]
const ROOM = ['drop function no_room() cascade']

/** A way to a port that can be cut and mended. */
async function wayTo(port: number) {
  const own = await freePort()
  const open = new Set<net.Socket>()
  const server = net.createServer((near) => {
    const far = net.connect(port, '127.0.0.1')
    for (const socket of [near, far]) {
      open.add(socket)
      socket.on('error', () => {})
      socket.on('close', () => {
        open.delete(socket)
        near.destroy()
        far.destroy()
      })
    }
    near.pipe(far).pipe(near)
  })
  const mend = () => new Promise<void>((resolve) => server.listen(own, '127.0.0.1', resolve))
  const cut = () => {
    server.close()
    for (const socket of open) socket.destroy()
  }
  await mend()
  return { port: own, cut, mend }
}

const server = await startEmbeddedServer(home)
const admin = new URL(server.adminUrl('postgres'))
const way = await wayTo(Number(admin.port))
const product = await startProduct(home, {
  GUDGEON_DEMO: 'no',
  DATABASE_URL: Object.assign(new URL(admin), { port: `${way.port}` }).href,
})
const browser = await launchChromium()
afterAll(async () => {
  await browser.close()
  await product.end()
  await server.release()
})
const page = await browser.newPage()
const heading = (name: string) => page.getByRole('heading', { name }).waitFor()

test('while the database is gone pages and the machine interface say so, and both go on when it is back', async () => {
  const machine = () =>
    fetch(`${product.address}/api/v1/vehicles`, { headers: { authorization: `Bearer ${TOKEN}` } })
  await page.goto(`${product.address}/door`)
  await heading('Start an organisation of your own')

  way.cut()
  const answer = await machine()
  expect([answer.status, answer.headers.get('retry-after')]).toEqual([503, '5'])
  expect(await answer.json()).toMatchObject({ type: '/api/problems/database-gone' })
  expect((await page.goto(`${product.address}/door`))?.status()).toBe(500)
  await heading('The database does not answer')

  await way.mend()
  await heading('Start an organisation of your own')
  expect((await machine()).status).toBe(401)
})

test('where the disk is full a form says so and keeps nothing, pages can be read, and it goes on when there is room', async () => {
  await page.goto(`${product.address}/door`)
  await page.getByLabel('Name of the organisation').fill('Brimful Fleet')
  await page.getByLabel('Currency').selectOption('EUR')
  await page.getByLabel('Your name').fill('Wren')
  for (const field of await page.getByLabel(/^(Mail address|Password)$/).all())
    await field.fill(
      (await field.getAttribute('type')) === 'password' ? 'a few words together' : 'wren@mill.example',
    )
  await page.getByRole('button', { name: 'Start it' }).click()
  await page.waitForURL(`${product.address}/`)
  const slot = async () => {
    await page.goto(`${product.address}/settings`)
    return page.getByLabel('From one slot to the next').inputValue()
  }
  const before = await slot()
  const keep = async (days: string) => {
    await page.getByLabel('From one slot to the next').fill(days)
    const terms = page.locator('form').filter({ has: page.getByLabel('From one slot to the next') })
    await terms.getByRole('button', { name: 'Keep', exact: true }).click()
  }
  await runSql(admin.href, ...FULL)
  await keep('33')
  await heading('The disk is full')
  expect(await page.locator('main').textContent()).toContain('was not kept')
  expect(await slot()).toBe(before)

  await runSql(admin.href, ...ROOM)
  await keep('33')
  await expect.poll(slot).toBe('33')
})
