import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { TestProject } from 'vitest/node'
import { startProduct } from './product'

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the product with the demo is. */
    address: string
    /** Its folder. */
    home: string
  }
}

/** One product with the demo for all files; built first where no build is there. */
export default async function setUp(project: TestProject): Promise<() => Promise<void>> {
  const home = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-browser-'))
  fs.chmodSync(home, 0o755)
  const product = await startProduct(home)
  project.provide('address', product.address)
  project.provide('home', home)
  return async () => {
    await product.end()
    fs.rmSync(home, { recursive: true, force: true })
  }
}
