/** What the product's own text never has: doors that are safe because they are not there. */
import fs from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'

const ENDINGS = /\.(ts|tsx|mjs|js)$/

const sources = ['app', 'lib', 'public'].flatMap((folder) =>
  fs
    .readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((file) => ENDINGS.test(file))
    .map((file) => path.join(folder, file)),
)

test.each([
  ['HTML made of text', /dangerouslySetInnerHTML|\.innerHTML|\.outerHTML|insertAdjacentHTML|document\.write/],
  ['code made of text', /\beval\(|new Function\(/],
  ['commands given to a shell', /shell: true|\bexecSync\(|[^.\w]exec\(|from 'child_process'/],
  ['answers to pages of other sites', /Access-Control-Allow/i],
  ['what anybody could foresee where nobody should', /Math\.random\(\)\.toString/],
])('there are no %s', (_, pattern) => {
  expect(sources.length).toBeGreaterThan(1000)
  expect(sources.filter((file) => pattern.test(fs.readFileSync(file, 'utf8')))).toEqual([])
})
