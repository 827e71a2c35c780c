import type { OrganisationScope } from '../with-organisation'

/** Keeps what was told of quarter and policies in the place of what was told before. */
export async function keepMoneyReport(
  { tx, organisation }: OrganisationScope,
  report: { ground: string; records: string; content: unknown; now: Date },
): Promise<void> {
  const { ground, records, content, now } = report
  await tx.$executeRaw`
    insert into money_reports (organisation_id, ground, records, content, made_at)
    values (${organisation}::uuid, ${ground}, ${records}, ${JSON.stringify(content)}::json, ${now})
    on conflict (organisation_id) do update set ground = excluded.ground, records = excluded.records,
      content = excluded.content, made_at = excluded.made_at`
}
