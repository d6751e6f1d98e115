import { describe, expect, test } from 'vitest'
import { GET as GET_EGG_CASES } from '@/app/api/v1/egg-cases/route'
import { GET as GET_PROFILE, PATCH } from '@/app/api/v1/species/[id]/care-profile/route'
import { GET as GET_ONE } from '@/app/api/v1/species/[id]/route'
import { GET } from '@/app/api/v1/species/route'
import { POST as POST_ZONE } from '@/app/api/v1/zones/route'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { listSpecies, requireSpecies } from '@/lib/features/species/data'
import { createSpecies, updateCareProfile } from '@/lib/features/species/mutations'
import { readRefusal } from '@/lib/platform/database-error'
import { requireDatabase } from '@/tests/support/database'
import { callApi, makeToken, makeWorkspace, within } from '@/tests/support/workspaces'

requireDatabase()

const slug = 'hymenopus-coronatus'
const path = 'growth.daysToAdult.female.value'

describe('the species of a workspace', () => {
  test('begin with the care profiles of the trade', async () => {
    const owner = await makeWorkspace('New breeder')
    const species = await within(owner, (tx) => listSpecies(tx, owner.workspaceId))
    expect(species.map((row) => row.scientificName)).toEqual(
      DEFAULT_PROFILES.map((entry) => entry.scientificName).sort(),
    )
    expect(species.every((row) => row.profileNumber === 1)).toBe(true)
  })

  test('a changed value is the workspace’s own, and the version before it stays', async () => {
    const owner = await makeWorkspace('Own figures')
    await within(owner, async (tx) => {
      const species = await requireSpecies(tx, owner.workspaceId, slug)
      const edits = [{ path, value: 171, note: 'Our last three lines.' }]
      await updateCareProfile(tx, owner.workspaceId, { species, edits, on: 1 })
      const changed = await requireSpecies(tx, owner.workspaceId, species.id)
      expect(changed.profileNumber).toBe(2)
      expect(changed.profile?.growth.daysToAdult.female).toMatchObject({
        value: 171,
        source: { kind: 'own', note: 'Our last three lines.' },
      })
      expect(changed.profile?.growth.daysToAdult.male).toEqual(species.profile?.growth.daysToAdult.male)
      expect(
        await tx.careProfile.count({ where: { workspaceId: owner.workspaceId, speciesId: species.id } }),
      ).toBe(2)
    })
  })

  test('a value changed by two people on the same version is taken from the first only', async () => {
    const owner = await makeWorkspace('Two editors')
    const change = (value: number) =>
      within(owner, async (tx) => {
        const species = await requireSpecies(tx, owner.workspaceId, slug)
        return updateCareProfile(tx, owner.workspaceId, { species, edits: [{ path, value }], on: 1 })
      })
    const outcomes = await Promise.allSettled([change(160), change(170)])
    expect(outcomes.filter((outcome) => outcome.status === 'fulfilled')).toHaveLength(1)
    expect(outcomes.find((outcome) => outcome.status === 'rejected')).toMatchObject({
      reason: { code: 'stale' },
    })
  })

  test('a species of one’s own takes figures over but nobody’s citation', async () => {
    const owner = await makeWorkspace('Own species')
    await within(owner, async (tx) => {
      const { workspaceId } = owner
      const like = await requireSpecies(tx, workspaceId, 'stagmomantis-spp')
      expect(like.profile?.growth.moultsToAdult.male.source.kind).toBe('published')
      const made = await createSpecies(tx, workspaceId, {
        scientificName: 'Bolbena hottentotta',
        kind: 'mantis',
        likeId: like.id,
      })
      const own = await requireSpecies(tx, workspaceId, made.slug)
      expect(JSON.stringify(own.profile)).not.toContain('published')
      expect(own.profile?.growth.moultsToAdult.male).toEqual({
        value: like.profile?.growth.moultsToAdult.male.value,
        source: { kind: 'own', note: 'Taken over from Stagmomantis spp.' },
      })
    })
  })

  test('another invertebrate is stocked without instars and has no care profile', async () => {
    const owner = await makeWorkspace('Spiders too')
    const made = await within(owner, (tx) =>
      createSpecies(tx, owner.workspaceId, { scientificName: 'Phidippus regius', kind: 'other' }),
    )
    const token = await makeToken(owner, 'viewer')
    const answer = await callApi(GET_PROFILE, { token, params: { id: made.slug } })
    expect(answer.status).toBe(404)
  })

  test('of another workspace answer to neither slug nor id with anything of theirs', async () => {
    const owner = await makeWorkspace('Own list')
    const neighbour = await makeWorkspace('Their list')
    const theirs = await within(neighbour, (tx) => requireSpecies(tx, neighbour.workspaceId, slug))
    await within(owner, async (tx) => {
      await expect(requireSpecies(tx, owner.workspaceId, theirs.id)).rejects.toMatchObject({
        code: 'not-found',
      })
      await expect(
        createSpecies(tx, owner.workspaceId, { scientificName: 'Theirs', kind: 'mantis', likeId: theirs.id }),
      ).rejects.toMatchObject({ code: 'not-found' })
    })
    const change = within(owner, (tx) =>
      updateCareProfile(tx, owner.workspaceId, { species: theirs, edits: [{ path, value: 100 }] }),
    )
    const refused = await change.then(() => undefined, readRefusal)
    expect(refused).toMatchObject({ code: 'not-found' })
  })
})

describe('care profiles over the API', () => {
  test('carry every value with a source or the word default', async () => {
    const token = await makeToken(await makeWorkspace('Till profiles'), 'viewer')
    const list = await callApi(GET, { token })
    expect(list.body.items).toHaveLength(DEFAULT_PROFILES.length)
    expect((await callApi(GET_ONE, { token, params: { id: slug } })).body.scientificName).toBe(
      'Hymenopus coronatus',
    )
    const answer = await callApi(GET_PROFILE, { token, params: { id: slug } })
    expect(answer.status).toBe(200)
    expect(answer.body.values.length).toBeGreaterThan(90)
    expect(answer.body.values.find((value: { path: string }) => value.path === path)).toMatchObject({
      value: 165,
      unit: 'days',
      source: { kind: 'default' },
    })
  })

  test('are changed with If-Match, and a value that cannot be right is refused at its place', async () => {
    const token = await makeToken(await makeWorkspace('Patch profile'), 'keeper')
    const patch = (values: unknown, ifMatch = '"1"') =>
      callApi(PATCH, {
        token,
        method: 'PATCH',
        params: { id: slug },
        body: { values },
        headers: { 'if-match': ifMatch },
      })
    const wrong = await patch([{ path: 'keeping.humidityPct.value.min', value: 140 }])
    expect([wrong.status, wrong.body.errors[0].path]).toEqual([422, 'values.0.value'])
    const unknown = await patch([{ path: 'growth.wings', value: 4 }])
    expect([unknown.status, unknown.body.errors[0].path]).toEqual([422, 'values.0.path'])
    const changed = await patch([{ path, value: 150, note: 'Ours.' }])
    expect([changed.status, changed.body.number]).toEqual([200, 2])
    const stale = await patch([{ path, value: 151 }])
    expect([stale.status, stale.body.present]).toEqual([409, { version: 2 }])
  })
})

describe('an address with a character that no text has', () => {
  test('is refused as a mistake of who asks, not of the service', async () => {
    const token = await makeToken(await makeWorkspace('Nothing there'), 'owner')
    expect((await callApi(GET_PROFILE, { token, params: { id: '\u0000' } })).status).toBe(404)
    const asked = await callApi(GET_EGG_CASES, { token, query: '?species=%00' })
    expect([asked.status, asked.body.detail]).toEqual([422, 'The query needs another look.'])
  })

  test.each(['a NUL \u0000', 'half of a pair \ud800'])('nor can a body keep %j', async (name) => {
    const token = await makeToken(await makeWorkspace('Nothing kept'), 'owner')
    const answer = await callApi(POST_ZONE, { token, body: { name, setTemperatureC: 24 } })
    expect([answer.status, answer.body.errors]).toEqual([
      422,
      [{ path: 'name', message: 'Holds a character that no text can keep.' }],
    ])
  })
})
