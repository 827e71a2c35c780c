import { type MockInstance, vi } from 'vitest'

type Line = { event: string } & Record<string, unknown>

/** Listens to the log from now on, which says nothing aloud meanwhile. */
export function listenToLog(): { events: () => Line[]; text: () => string; stop: () => void } {
  const write: MockInstance = vi.spyOn(process.stderr, 'write').mockImplementation(() => true)
  const text = () => write.mock.calls.map(([each]) => String(each)).join('')
  return {
    text,
    events: () =>
      text()
        .split('\n')
        .filter((line) => line.startsWith('{'))
        .map((line) => JSON.parse(line)),
    stop: () => write.mockRestore(),
  }
}
