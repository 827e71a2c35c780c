import type { OrganisationScope } from '../with-organisation'

/** Keeps the sum over the lot in the place of the one before. */
export async function keepStockLot(
  { tx, organisation }: OrganisationScope,
  { basis, content, now }: { basis: string; content: unknown; now: Date },
): Promise<void> {
  await tx.$executeRaw`
    insert into stock_lots (organisation_id, basis, content, made_at)
    values (${organisation}::uuid, ${basis}, ${JSON.stringify(content)}::json, ${now})
    on conflict (organisation_id) do update
      set basis = excluded.basis, content = excluded.content, made_at = excluded.made_at`
}
