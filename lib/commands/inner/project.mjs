// @ts-check
import path from 'node:path'

/** The folder of the whole project. */
export const PROJECT = path.resolve(import.meta.dirname, '../../..')
