/** Who stands in the audit trail: a handle on the database is given out where somebody has been found to ask, and nowhere else. */
import fs from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'

/** The files of `app/` that reach the database in nobody's hands, and why they may. */
const IN_NOBODYS_HANDS: Record<string, string> = {
  'require-person.ts': 'hands it to whoever is signed in',
  'api/serve.ts': 'hands it to the token',
  '(door)/actions.ts': 'nobody has come in yet; whoever starts an organisation acts as its owner',
  '(door)/reset-actions.ts': 'nobody has come in; it touches no organisation',
  '(door)/door/page.tsx': 'nobody has come in yet; it reads',
  '(label)/invitation/[key]/actions.ts': 'whoever joins acts, once they are there',
  '(label)/invitation/[key]/page.tsx': 'it reads',
  '(label)/reset/[key]/actions.ts': 'the mail’s key is all that is asked for; it touches no organisation',
  '(label)/reset/[key]/page.tsx': 'it reads',
  '(label)/q/[key]/actions.ts': 'is handed back in the hands of the label',
  '(label)/q/[key]/page.tsx': 'it reads',
  '(label)/unsubscribe/[key]/actions.ts': 'the mail’s key says whose hands',
  '(label)/unsubscribe/[key]/one-click/route.ts': 'the mail’s key says whose hands',
  '(people)/vehicles/[unit]/layout.tsx': 'rehearses and keeps nothing',
}

test('pages, actions and routes change nothing in nobody’s name', () => {
  const app = path.resolve('app')
  const found = fs
    .readdirSync(app, { recursive: true, encoding: 'utf8' })
    .filter((file) => /\.tsx?$/.test(file))
    .filter((file) => /\bproductDatabase\b/.test(fs.readFileSync(path.join(app, file), 'utf8')))
  expect(found.sort()).toEqual(Object.keys(IN_NOBODYS_HANDS).sort())
})
