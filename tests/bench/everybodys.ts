import { Client } from 'pg'

/** Makes everybody whom the demo knows an owner of one more organisation. @param adminUrl the product's own database */
export async function makeEverybodys(adminUrl: string, organisation: string): Promise<void> {
  const client = new Client(adminUrl)
  await client.connect()
  await client.query(
    `insert into memberships (organisation_id, person_id, role, made_at)
     select $1, id, 'owner', now() from people`,
    [organisation],
  )
  await client.end()
}
