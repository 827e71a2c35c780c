import { expect, test } from 'vitest'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { rehearse } from '@/lib/store/rehearse'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { putLibrary } from '@/lib/store/write/put-library'
import { anOrganisation, NOW } from './example-records'
import { EXAMPLE_LIBRARY } from './example-scores'
import { testDatabase } from './test-database'

const { database } = await testDatabase()
const saying = (name: string) => JSON.stringify({ ...EXAMPLE_LIBRARY, name })
const put = (content: string) => async (scope: OrganisationScope) => {
  await putLibrary(scope, { content, now: NOW })
  return readLibraryInForce(scope)
}
const inForce = (id: OrganisationId) => withOrganisation(database, id, readLibraryInForce)

test('a text that was read before is that of the library in force, whatever was only tried meanwhile', async () => {
  const id = await anOrganisation(database, 'texts')
  expect(await inForce(id)).toBeNull()
  const first = { version: 1, content: saying('first') }
  expect(await withOrganisation(database, id, put(first.content), 'write')).toEqual(first)
  expect([await inForce(id), await inForce(id)]).toEqual([first, first])

  const tried = { version: 2, content: saying('tried') }
  expect(await rehearse(database, id, put(tried.content))).toEqual(tried)
  expect(await inForce(id)).toEqual(first)
  const second = { version: 2, content: saying('second') }
  await withOrganisation(database, id, put(second.content), 'write')
  expect([await inForce(id), await inForce(id)]).toEqual([second, second])
})

test('what is asked for in one reading is asked once, and anew after another library was put', async () => {
  const id = await anOrganisation(database, 'asked')
  await withOrganisation(database, id, async (scope) => {
    let asked = 0
    const tx = new Proxy(scope.tx, {
      get: (of, name) => {
        if (name === '$queryRaw') asked++
        return Reflect.get(of, name)
      },
    })
    const counting = { ...scope, tx }
    const versions = async () => [
      (await readLibraryInForce(counting))?.version,
      (await readLibraryInForce(counting))?.version,
    ]
    expect([await versions(), asked]).toEqual([[undefined, undefined], 1])
    await putLibrary(scope, { content: saying('asked first'), now: NOW })
    expect([await versions(), asked]).toEqual([[1, 1], 2])
  })
})

test('each of more organisations than texts are kept has its own, also when all ask at once', async () => {
  const ids = await Promise.all(
    Array.from({ length: 10 }, (_, i) => anOrganisation(database, `library ${i}`)),
  )
  for (const [i, id] of ids.entries()) await withOrganisation(database, id, put(saying(`of ${i}`)), 'write')
  for (let time = 0; time < 3; time++) {
    const found = await Promise.all(ids.map(inForce))
    expect(found.map((library) => library?.content)).toEqual(ids.map((_, i) => saying(`of ${i}`)))
  }
})
