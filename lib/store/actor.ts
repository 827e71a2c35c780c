/**
 * Whoever acts on an organisation's rows, as the audit trail names them: somebody signed in, a machine by its token,
 * somebody by a vehicle's label or a mail's link, a work in the background or a command by its name, or the web server
 * before it knows who asks.
 */
export type Actor =
  | { kind: 'person' | 'token' | 'label'; id: string }
  | { kind: 'job' | 'command' | 'server'; name: string }

/** What the audit trail keeps of who acts; beside these, `database:ROLE` is whoever worked on the tables directly. */
export const writtenActor = (actor: Actor): string => `${actor.kind}:${'id' in actor ? actor.id : actor.name}`

/** An actor as it was kept: what kind, and its id or name. */
export function readActor(written: string): { kind: Actor['kind'] | 'database'; named: string } {
  const colon = written.indexOf(':')
  return { kind: written.slice(0, colon) as Actor['kind'], named: written.slice(colon + 1) }
}
