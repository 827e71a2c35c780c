import fs from 'node:fs'
import path from 'node:path'

/** Whatever of the product can be asked for, found in its files: a new one is found by itself. */

const APP = path.resolve('app')

const FILES = fs.readdirSync(APP, { recursive: true, encoding: 'utf8' }).sort()
const textOf = (file: string) => fs.readFileSync(path.join(APP, file), 'utf8')

/** The address that Next makes of a file's folder: groups in parentheses are left out. */
const addressOf = (file: string) =>
  `/${path
    .dirname(file)
    .split(path.sep)
    .filter((part) => !/^\(.*\)$|^\.$/.test(part))
    .join('/')}`

/** Every page by its address; every method of every route handler beside the machine interface. */
export function askableAddresses(): string[] {
  const pages = FILES.filter((file) => /(^|\/)page\.[jt]sx?$/.test(file)).map(addressOf)
  const routes = FILES.filter((file) => /(^|\/)route\.[jt]sx?$/.test(file) && !file.startsWith('api/'))
  return [...pages, ...routes.flatMap(methodsOf)].sort()
}

const METHOD = /^export (?:async function|const) (GET|HEAD|POST|PUT|PATCH|DELETE|OPTIONS)\b/gm

/** Its methods, each written as an export of its own: what is exported otherwise would be overlooked. */
function methodsOf(file: string): string[] {
  const text = textOf(file)
  const methods = [...text.matchAll(METHOD)].map(([, method]) => `${method} ${addressOf(file)}`)
  const exported = [...text.matchAll(/^export (?!type\b)/gm)].length
  if (methods.length === 0 || methods.length !== exported)
    throw new Error(`${file} exports something beside its methods, or in a way that is not looked for`)
  return methods
}

/** The functions that browsers may call, as Next finds them: all that a file of actions exports. */
export function askableActions(): { file: string; name: string }[] {
  const marked = FILES.filter((file) => /\.[jt]sx?$/.test(file) && /['"]use server['"]/.test(textOf(file)))
  return marked.flatMap((file) => {
    const text = textOf(file)
    if (!text.startsWith("'use server'\n"))
      throw new Error(`${file} makes an action within a component: put it into a file of actions`)
    const names = [...text.matchAll(/^export async function (\w+)/gm)].map(([, name]) => name ?? '')
    if (names.length !== [...text.matchAll(/^export (?!type\b)/gm)].length)
      throw new Error(`${file} exports something that is not an action`)
    return names.map((name) => ({ file, name }))
  })
}
