import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import net from 'node:net'
import os from 'node:os'
import path from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { newTokenSecret, writeTokenText } from '@/lib/people/token-text'
import { startEmbeddedServer } from '@/lib/store/inner/embedded-server'
import { launchChromium } from './chromium'
import { freePort, startProduct } from './product'

const home = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-gone-'))
fs.chmodSync(home, 0o755)
afterAll(() => fs.rmSync(home, { recursive: true, force: true }))

/** It has the form of a token, so that it is looked up; nobody was given it. */
const TOKEN = writeTokenText({ organisation: randomUUID(), id: randomUUID(), secret: newTokenSecret() })

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

test('while the database is gone pages and the machine interface say so, and both go on when it is back', async () => {
  const server = await startEmbeddedServer(home)
  const admin = new URL(server.adminUrl('postgres'))
  const way = await wayTo(Number(admin.port))
  admin.port = `${way.port}`
  const product = await startProduct(home, { GUDGEON_DEMO: 'no', DATABASE_URL: admin.href })
  const browser = await launchChromium()
  try {
    const page = await browser.newPage()
    const machine = () =>
      fetch(`${product.address}/api/v1/vehicles`, { headers: { authorization: `Bearer ${TOKEN}` } })
    const heading = (name: string) => page.getByRole('heading', { name }).waitFor()
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
  } finally {
    await browser.close()
    await product.end()
    await server.release()
  }
})
