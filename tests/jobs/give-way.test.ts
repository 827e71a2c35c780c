import { EventEmitter } from 'node:events'
import { setTimeout as sleep } from 'node:timers/promises'
import { expect, test } from 'vitest'
import { giveWay } from '@/lib/jobs/inner/give-way'
import { countUntilAnswered, requestsUnderWay } from '@/lib/jobs/requests-under-way.mjs'

function request(): { answer: () => void } {
  const response = new EventEmitter()
  countUntilAnswered(response as never)
  return { answer: () => void response.emit('close') }
}

test('requests are counted until each is answered, once', () => {
  const [first, second] = [request(), request()]
  expect(requestsUnderWay()).toBe(2)
  first.answer()
  first.answer()
  expect(requestsUnderWay()).toBe(1)
  second.answer()
  expect(requestsUnderWay()).toBe(0)
})

test('work gives way until the last request is answered', async () => {
  const [first, second] = [request(), request()]
  const order: string[] = []
  const work = giveWay().then(() => order.push('work'))
  await sleep(15)
  first.answer()
  await sleep(15)
  order.push('answered')
  second.answer()
  await work
  expect(order).toEqual(['answered', 'work'])
})

test('where there is always a request it goes on all the same', async () => {
  const never = request()
  await giveWay()
  expect(requestsUnderWay()).toBe(1)
  never.answer()
})
