import type { OrganisationScope } from '../with-organisation'

/** What a report rests on: the ground of the scores, and the state of all records. */
export type ReportBasis = { ground: string; records: string; madeAt: Date }

/** On what the report that is kept rests; null before the first. */
export async function readReportBasis({ tx }: OrganisationScope): Promise<ReportBasis | null> {
  const [found] = await tx.$queryRaw<ReportBasis[]>`
    select ground, records, made_at as "madeAt" from money_reports`
  return found ?? null
}

/** What is kept of quarter and policies, whatever it rests on; null before the first. */
export async function readMoneyReport<Content>({
  tx,
}: OrganisationScope): Promise<({ content: Content } & ReportBasis) | null> {
  const [found] = await tx.$queryRaw<({ content: Content } & ReportBasis)[]>`
    select content, ground, records, made_at as "madeAt" from money_reports`
  return found ?? null
}
