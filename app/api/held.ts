const kept = globalThis as typeof globalThis & { gudgeonMachineInterface?: Map<string, unknown> }

/** Something that all routes of this process share: each is built with modules of its own. */
export function held<T>(name: string, make: () => T): T {
  kept.gudgeonMachineInterface ??= new Map()
  const all = kept.gudgeonMachineInterface
  if (!all.has(name)) all.set(name, make())
  return all.get(name) as T
}
