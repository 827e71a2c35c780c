import type { OrganisationScope } from '../with-organisation'

/** What the organisation has learned from, and whether it is learning. */
export type Learning = {
  /** When it learned last, and from how many renewals; null before the first time. */
  last: { madeAt: Date; renewals: number } | null
  /** Renewals on record now. */
  renewals: number
  /** Under way, or asked for. */
  job: { id: string; by: string | null; done: number; total: number | null } | null
  /** Why it failed, where it did since it learned last. */
  failure: { message: string; at: Date } | null
}

/** As the database tells it: moments in JSON are text. */
type Told = Omit<Learning, 'last' | 'failure'> & {
  last: { madeAt: string; renewals: number } | null
  failure: { message: string; at: string } | null
}

/** How it stands with learning. */
export async function readLearning({ tx, organisation }: OrganisationScope): Promise<Learning> {
  const [found] = await tx.$queryRaw<Told[]>`
    select
      (select json_build_object('madeAt', made_at, 'renewals', renewals) from fits
        order by made_at desc, id desc limit 1) as last,
      (select count(*)::int from repairs
        where superseded_at is null and withdrawn_at is null and action <> 'inspect') as renewals,
      (select json_build_object('id', id, 'by', made_by, 'done', done, 'total', total) from jobs
        where kind = 'refit' and state = 'running') as job,
      (select json_build_object('message', message, 'at', finished_at) from jobs
        where kind = 'refit' and state = 'failed'
          and finished_at > coalesce((select max(made_at) from fits), '-infinity')
        order by finished_at desc limit 1) as failure
    from organisations where id = ${organisation}::uuid`
  if (!found) throw new Error('There is no such organisation')
  const { last, failure } = found
  return {
    ...found,
    last: last && { ...last, madeAt: new Date(last.madeAt) },
    failure: failure && { ...failure, at: new Date(failure.at) },
  }
}
