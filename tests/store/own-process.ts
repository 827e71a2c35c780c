/**
 * Files of a worker share their modules, and a product keeps for its process which database it serves and who asked how
 * often: each file begins as a product that was just started.
 */
const kept = globalThis as typeof globalThis & {
  gudgeonDatabase?: unknown
  gudgeonMachineInterface?: unknown
}
delete kept.gudgeonDatabase
delete kept.gudgeonMachineInterface
