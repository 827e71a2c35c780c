import { expect, test } from 'vitest'
import { openDatabase } from '@/lib/store/database'
import { productUrl } from '@/lib/store/inner/product-role'
import { prepareDatabase } from '@/lib/store/start-database'
import { runSql, testDatabase } from './test-database'

const { adminUrl, url } = await testDatabase()

const as = (user: string, password: string) => {
  const address = new URL(adminUrl)
  return Object.assign(address, { username: user, password }).href
}

test('the product works as a role without special rights, which owns nothing', async () => {
  const [role] = await runSql(
    url,
    `select rolname, rolsuper, rolbypassrls, rolcreatedb, rolcreaterole, rolreplication,
       (select count(*)::int from pg_class where relowner = pg_roles.oid) as owned,
       (select count(*)::int from pg_auth_members where member = pg_roles.oid) as memberships
     from pg_roles where rolname = current_user`,
  )
  expect(role).toEqual({
    rolname: 'gudgeon_app',
    rolsuper: false,
    rolbypassrls: false,
    rolcreatedb: false,
    rolcreaterole: false,
    rolreplication: false,
    owned: 0,
    memberships: 0,
  })
})

test('the product cannot turn row-level security off, nor make or empty tables', async () => {
  for (const statement of [
    'alter table readings no force row level security',
    'alter table readings disable row level security',
    'drop policy own_organisation on readings',
    'create policy all_of_them on readings using (true)',
    'truncate readings',
    'create table public.mine (id int)',
    'alter role current_user bypassrls',
    'select * from _prisma_migrations',
  ])
    await expect(runSql(url, statement), statement).rejects.toThrow(/permission denied|must be/)
  const withoutIt = runSql(url, 'set row_security = off', 'select * from readings')
  await expect(withoutIt).rejects.toThrow(/row-level security policy/)
})

test('a superuser is refused', async () => {
  await expect(openDatabase(adminUrl, { kind: 'command', name: 'test' })).rejects.toThrow(
    /must not work as this database role: .* is a superuser/,
  )
})

test('a role that bypasses row-level security is refused', async () => {
  await runSql(adminUrl, "create role test_bypasser login bypassrls password 'p'")
  try {
    await expect(openDatabase(as('test_bypasser', 'p'), { kind: 'command', name: 'test' })).rejects.toThrow(
      /test_bypasser bypasses row-level security/,
    )
  } finally {
    await runSql(adminUrl, 'drop role test_bypasser')
  }
})

test('the owner of a table is refused, and so is a member of the owner', async () => {
  await runSql(
    adminUrl,
    "create role test_owner login password 'p'",
    "create role test_member login password 'p' in role test_owner",
    'create table owned_by_test (id int)',
    'alter table owned_by_test owner to test_owner',
  )
  try {
    for (const role of ['test_owner', 'test_member'])
      await expect(openDatabase(as(role, 'p'), { kind: 'command', name: 'test' }), role).rejects.toThrow(
        `${role} owns the table owned_by_test`,
      )
  } finally {
    await runSql(adminUrl, 'drop table owned_by_test', 'drop role test_member', 'drop role test_owner')
  }
})

test('the product’s address gives nothing of the administrator’s away', () => {
  const [admin, product] = [new URL(adminUrl), new URL(productUrl(adminUrl))]
  expect(product.username).toBe('gudgeon_app')
  expect(product.href).not.toContain(admin.password)
  expect(product.host + product.pathname).toBe(admin.host + admin.pathname)
})

test('where a role was made for it, the product works as that one', async () => {
  await runSql(adminUrl, "create role test_given login password 'p'")
  try {
    const given = as('test_given', 'p')
    expect(await prepareDatabase(adminUrl, given)).toBe(given)
    const database = await openDatabase(given, { kind: 'command', name: 'test' })
    expect(await database.$queryRaw`select count(*)::int as n from vehicles`).toEqual([{ n: 0 }])
    await database.$disconnect()
  } finally {
    await runSql(adminUrl, 'drop owned by test_given', 'drop role test_given')
  }
})
