/**
 * Opens the page at the vehicle without reception: it keeps that page and what it is made of, and nothing that tells of
 * anybody. What a phone knows of vehicles, and what waits to be sent, is kept by the page itself.
 */
const SHELL = '/at'
const CACHE = 'gudgeon-at-the-vehicle'
const MADE_OF = /\/_next\/static\/[\w./~%-]+/g
/** Where reception is poor the page is opened from what is kept. */
const PATIENCE_MS = 4000

const isMadeOf = (url) => url.origin === self.location.origin && url.pathname.startsWith('/_next/static/')
const isAt = ({ pathname }) => pathname === SHELL || pathname.startsWith(`${SHELL}/`)

self.addEventListener('install', (event) => {
  self.skipWaiting()
  event.waitUntil(keep([]).catch(() => {})) // signed out, or cut off: the page has it kept later
})

self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()))

self.addEventListener('message', (event) => {
  if (!Array.isArray(event.data?.keep)) return
  const told = () => event.ports[0]?.postMessage('kept')
  event.waitUntil(keep(event.data.keep).then(told, () => {}))
})

/** Keeps the page as it is now with all that it is made of, and gives up what an earlier one was made of. */
async function keep(loaded) {
  const page = await fetch(SHELL, { redirect: 'manual', cache: 'no-store' })
  if (page.status !== 200) throw new Error(`${SHELL} answered ${page.status}`)
  const named = (await page.clone().text()).match(MADE_OF) ?? []
  const parts = new Set([...loaded, ...named].map((address) => new URL(address, self.location.origin).href))
  const cache = await caches.open(CACHE)
  await Promise.all([...parts].map((part) => keepPart(cache, part)))
  await cache.put(SHELL, page)
  for (const { url } of await cache.keys())
    if (isMadeOf(new URL(url)) && !parts.has(url)) await cache.delete(url)
}

async function keepPart(cache, part) {
  if (!isMadeOf(new URL(part)) || (await cache.match(part))) return
  const response = await fetch(part)
  if (response.ok) await cache.put(part, response)
}

self.addEventListener('fetch', (event) => {
  const { request } = event
  const url = new URL(request.url)
  if (request.method !== 'GET' || url.origin !== self.location.origin) return
  if (request.mode === 'navigate' && isAt(url)) event.respondWith(pageFor(request))
  else if (isMadeOf(url)) event.respondWith(caches.match(request).then((kept) => kept ?? fetch(request)))
})

/** The page from the server; from what is kept where that does not answer in time, or cannot. */
async function pageFor(request) {
  const fromServer = fetch(request)
  fromServer.catch(() => {})
  const inTime = new Promise((resolve) => setTimeout(resolve, PATIENCE_MS, null))
  const answer = await Promise.race([fromServer, inTime]).catch(() => null)
  if (answer && answer.status < 500) return answer
  return (await caches.match(SHELL)) ?? answer ?? fromServer
}
