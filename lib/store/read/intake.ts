import type { FileKind } from '@/lib/intake/kind-of-file'
import type { StagedFile } from '@/lib/intake/read-staged'
import type { IntakeSummary } from '../intake-summary'
import type { Job } from '../job'
import type { OrganisationScope } from '../with-organisation'

export type IntakeState = 'staged' | 'done' | 'taken-back' | 'failed'

/** Files that were brought in together: who, when, what came of them. */
export type Intake = {
  id: string
  state: IntakeState
  /** The name of whoever brought them; null where no person did, or they are gone. */
  by: string | null
  madeAt: Date
  doneAt: Date | null
  takenBackAt: Date | null
  /** Null until they are read. */
  summary: IntakeSummary | null
  files: { name: string; kind: FileKind | null; bytes: number }[]
  /** The work that is or was done on them. */
  job: Job | null
}

const INTAKE = `
  select intake.id::text, intake.state, people.name as by, intake.made_at as "madeAt", intake.done_at as "doneAt",
    intake.taken_back_at as "takenBackAt", intake.summary,
    array(select json_build_object('name', name, 'kind', kind, 'bytes', octet_length(content))
      from intake_files where intake_id = intake.id order by name) as files,
    (select json_build_object('id', id, 'kind', kind, 'state', state, 'done', done, 'total', total, 'message', message)
      from jobs where jobs.id = intake.id) as job
  from intakes intake left join people on people.id = intake.made_by`

/** One of them by its id; null where there is none. */
export async function readIntake({ tx }: OrganisationScope, id: string): Promise<Intake | null> {
  const [found] = await tx.$queryRawUnsafe<Intake[]>(`${INTAKE} where intake.id = $1::uuid`, id)
  return found ?? null
}

const MOST_SHOWN = 200

/** What was brought in, the last first. */
export async function readIntakes({ tx }: OrganisationScope): Promise<Intake[]> {
  return tx.$queryRawUnsafe<Intake[]>(
    `${INTAKE} order by intake.made_at desc, intake.id desc limit ${MOST_SHOWN}`,
  )
}

/** How large the files are, together. */
export async function countIntakeBytes({ tx }: OrganisationScope, id: string): Promise<number> {
  const [found] = await tx.$queryRaw<{ bytes: number }[]>`
    select coalesce(sum(octet_length(content)), 0)::float8 as bytes from intake_files where intake_id = ${id}::uuid`
  return found?.bytes ?? 0
}

/** On its way from the database a file takes several times its room: so much of it at a time. */
const BYTES_AT_ONCE = 4_000_000

/** The files themselves, by name. */
export async function readIntakeFiles({ tx }: OrganisationScope, id: string): Promise<StagedFile[]> {
  const files = await tx.$queryRaw<(Omit<StagedFile, 'bytes'> & { id: string; length: number })[]>`
    select id::text, name, kind, octet_length(content) as length
    from intake_files where intake_id = ${id}::uuid order by name`
  const whole: StagedFile[] = []
  for (const { id: file, name, kind, length } of files) {
    const bytes = new Uint8Array(length)
    for (let at = 0; at < length; at += BYTES_AT_ONCE) {
      const [piece] = await tx.$queryRaw<{ bytes: Uint8Array }[]>`
        select substring(content from ${at + 1}::int for ${BYTES_AT_ONCE}::int) as bytes
        from intake_files where id = ${file}::uuid`
      bytes.set(piece?.bytes ?? [], at)
    }
    whole.push({ name, kind, bytes })
  }
  return whole
}
