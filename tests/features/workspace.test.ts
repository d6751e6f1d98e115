import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { signUp } from '@/lib/features/person/mutations'
import { createWorkspace, updateSlug, updateWorkspace } from '@/lib/features/workspace/mutations'
import { suggestSlug } from '@/lib/features/workspace/schema'
import { readRefusal } from '@/lib/platform/database-error'
import { getAddressOnSite } from '@/lib/platform/next-address'
import { verifyPassword } from '@/lib/platform/password'
import { getPersonForSignIn } from '@/lib/platform/person'
import { listMissingMigrations, listRoleProblems, requireReady } from '@/lib/platform/readiness'
import { createSession, endDevice, getSession, listDevices, lookUpMembership } from '@/lib/platform/session'
import { requireDatabase } from '@/tests/support/database'
import { makePerson, makeWorkspace, within } from '@/tests/support/workspaces'

requireDatabase()

const place = { timeZone: 'Europe/Vienna', country: 'AT', currency: 'EUR', language: 'de' }
const settings = {
  ...{ name: 'Renamed', country: 'AT', timeZone: 'Pacific/Auckland', language: 'de' as const },
  ...{ instarConvention: 'hatchling_is_second' as const, instarStyle: 'l_number' as const },
  ...{ temperatureUnit: 'fahrenheit' as const, lengthUnit: 'inch' as const },
  contact: 'Mail us.',
}

describe('a workspace', () => {
  test('is told its own day by its own clock', async () => {
    const owner = await makeWorkspace('Other side')
    await within(owner, (tx) => updateWorkspace(tx, owner.workspaceId, { ...settings, version: 1 }))
    const day = new Intl.DateTimeFormat('en-CA', { timeZone: 'Pacific/Auckland' }).format(new Date())
    await within(owner, async (_tx, workspace) => expect(workspace.today).toBe(day))
  })

  test('saved by two people at once shows the second what the first saved', async () => {
    const owner = await makeWorkspace('Two savers')
    const save = (name: string) =>
      within(owner, (tx) => updateWorkspace(tx, owner.workspaceId, { ...settings, name, version: 1 }))
    await save('First')
    const refused = await save('Second').then(() => undefined, readRefusal)
    expect(refused).toMatchObject({ code: 'stale', present: { name: 'First', version: 2 } })
    expect(refused?.present).not.toHaveProperty('labelKey')
  })

  test('with a new address is still found under the old one and takes nobody else’s', async () => {
    const owner = await makeWorkspace('Moves')
    const neighbour = await makeWorkspace('Stays')
    const slug = `moved-${randomUUID().slice(0, 8)}`
    const secret = await createSession(String(owner.personId), 'desk')
    await within(owner, (tx) => updateSlug(tx, owner.workspaceId, { slug, version: 1 }))
    expect(await lookUpMembership(secret, owner.slug)).toMatchObject({ presentSlug: slug, role: 'owner' })
    for (const taken of [owner.slug, slug])
      await expect(
        within(neighbour, (tx) => updateSlug(tx, neighbour.workspaceId, { slug: taken, version: 1 })),
      ).rejects.toMatchObject({ code: 'name-taken' })
    await within(owner, (tx) => updateSlug(tx, owner.workspaceId, { slug: owner.slug, version: 2 }))
    expect(await lookUpMembership(secret, slug)).toMatchObject({ presentSlug: owner.slug })
  })

  test('cannot be made under an address that another one has or had', async () => {
    const owner = await makeWorkspace('First of the name')
    const made = createWorkspace({ name: 'Second', slug: owner.slug, ...place }, await makePerson('Founder'))
    expect(await made.then(() => undefined, readRefusal)).toMatchObject({ code: 'name-taken' })
  })

  test('is suggested an address made of its name', () => {
    expect(suggestSlug('Larch Lane Mantids')).toBe('larch-lane-mantids')
    expect(suggestSlug('Gottesanbeterinnen Müller & Söhne!')).toBe('gottesanbeterinnen-muller-sohne')
    expect(suggestSlug('螳螂')).toBe('')
  })
})

describe('an account', () => {
  test('keeps its password when somebody signs up with its address again', async () => {
    const email = `twice-${randomUUID()}@example.test`
    await signUp({ name: 'First', email, password: 'the first password' })
    await signUp({ name: 'Second', email: email.toUpperCase(), password: 'another password' })
    const person = await getPersonForSignIn(email)
    expect(person?.name).toBe('First')
    expect(await verifyPassword(person?.passwordHash, 'the first password')).toBe(true)
    expect(await verifyPassword(person?.passwordHash, 'another password')).toBe(false)
  })

  test('signs out one device and leaves the others, and nobody else’s', async () => {
    const person = await makePerson('Two devices')
    const other = await makePerson('Somebody else')
    const phone = await createSession(person.personId, 'phone')
    const tablet = await createSession(person.personId, 'tablet')
    const device = (await listDevices(person.personId)).find((row) => row.device === 'tablet')
    expect(await endDevice(other.personId, device?.id ?? '')).toBe(false)
    expect(await getSession(tablet)).toBeDefined()
    expect(await endDevice(person.personId, device?.id ?? '')).toBe(true)
    expect(await getSession(tablet)).toBeUndefined()
    expect((await getSession(phone))?.name).toBe('Two devices')
  })
})

describe('after signing in one goes on', () => {
  test.each([
    ['/w/larch-lane-mantids/clutches?show=late', '/w/larch-lane-mantids/clutches?show=late'],
    ['/invitation/abc#accept', '/invitation/abc#accept'],
    ['//other.site', '/'],
    ['/\\other.site', '/'],
    ['/\t/other.site', '/'],
    ['/..//other.site', '/'],
    ['https://other.site', '/'],
    ['javascript:alert(1)', '/'],
    ['', '/'],
    [undefined, '/'],
  ])('from %j to %s, which is on the site', (next, address) => {
    expect(getAddressOnSite(next)).toBe(address)
  })
})

describe('the service', () => {
  test('starts on a database that is current, as a role that cannot look around', async () => {
    expect(await listMissingMigrations()).toEqual([])
    await requireReady()
  })

  test.each([
    [{ isSuperuser: true }, /superuser/],
    [{ maySeeEverything: true }, /BYPASSRLS/],
    [{ owns: 3 }, /owner of tables/],
    [{ mayBecomeOwner: true }, /may become the owner/],
    [{ timeZone: 'Europe/Berlin' }, /Europe\/Berlin/],
  ])('does not start when its database role has %j', (more, words) => {
    const role = {
      isSuperuser: false,
      maySeeEverything: false,
      owns: 0,
      mayBecomeOwner: false,
      timeZone: 'UTC',
    }
    expect(listRoleProblems(role)).toEqual([])
    expect(listRoleProblems({ ...role, ...more }).join()).toMatch(words)
  })
})
