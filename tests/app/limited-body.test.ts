import { expect, test } from 'vitest'
import { LARGEST_BODY, readLimited } from '@/app/limited-body'

const MEGABYTE = 1024 * 1024

/** A body that is made as it is asked for, and counts how much of it was. */
function bodyOf(megabytes: number) {
  const asked = { megabytes: 0, ended: false }
  const stream = new ReadableStream<Uint8Array>(
    {
      pull(controller) {
        if (asked.megabytes >= megabytes) controller.close()
        else {
          asked.megabytes++
          controller.enqueue(new Uint8Array(MEGABYTE))
        }
      },
      cancel() {
        asked.ended = true
      },
    },
    { highWaterMark: 0 },
  )
  return { asked, stream }
}

const requestOf = (stream: ReadableStream, headers: Record<string, string> = {}) =>
  new Request('http://localhost/intake/upload', {
    ...{ method: 'POST', body: stream, headers, duplex: 'half' },
  } as RequestInit)

test('200 MB are not taken into memory: nothing is asked for where they are announced, else no more than the limit', async () => {
  const announced = bodyOf(200)
  const headers = { 'Content-Length': `${200 * MEGABYTE}` }
  expect(await readLimited(requestOf(announced.stream, headers))).toBeNull()
  expect(announced.asked.megabytes).toBe(0)

  const silent = bodyOf(200)
  expect(await readLimited(requestOf(silent.stream))).toBeNull()
  expect(silent.asked.megabytes).toBe(LARGEST_BODY / MEGABYTE + 1)
  expect(silent.asked.ended).toBe(true)
})

test('what is within the limit is read whole', async () => {
  const { stream } = bodyOf(2)
  expect((await readLimited(requestOf(stream)))?.length).toBe(2 * MEGABYTE)
})
