import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postSheets } from '@/app/api/v1/care-sheets/route'
import { POST as postDeath } from '@/app/api/v1/individuals/[id]/deaths/route'
import { POST as postMoult } from '@/app/api/v1/individuals/[id]/moults/route'
import { loadPublicLinks } from '@/lib/features/public-link/data'
import { loadPublicPage } from '@/lib/features/public-link/loaders'
import { revokePublicLink } from '@/lib/features/public-link/mutations'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { callApi, countAsSignIn, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let other: Rack
beforeAll(async () => {
  rack = await makeRack('Link keeper')
  other = await makeRack('Stranger')
  await within(rack.owner, (tx, { workspaceId }) =>
    tx.workspace.update({
      where: { workspaceId },
      data: { contact: 'hello@link-keeper.example', claimTerms: 'Photos within 24 hours.' },
    }),
  )
})

async function makeLinked(): Promise<{ nymph: Nymph; token: string }> {
  const [nymph] = await makeNymphs(rack, {
    count: 1,
    hatchedOn: rack.day(-40),
    partedOn: rack.day(-20),
    moults: 2,
  })
  if (!nymph) throw new Error('no nymph')
  return { nymph, token: await printed(nymph) }
}

async function printed(nymph: Nymph): Promise<string> {
  const { body } = await callApi(postSheets, { token: rack.token, body: { individuals: [nymph.id] } })
  return String(body.items[0].publicPage).replace(/^.*\/p\//, '')
}

async function revoke(nymph: Nymph, owner = rack.owner): Promise<void> {
  const links = await within(rack.owner, (tx, { workspaceId }) =>
    loadPublicLinks(tx, workspaceId, { kind: 'individual', ids: [nymph.id] }),
  )
  const version = links.get(nymph.id)?.version ?? 0
  await within(owner, (tx, { workspaceId }) =>
    revokePublicLink(tx, workspaceId, { individual: nymph.id, version }),
  )
}

const MISSING = { digest: 'NEXT_HTTP_ERROR_FALLBACK;404' }

describe('the public page', () => {
  test('says what the sheet says: the animal, its care, the seller and how to reach them', async () => {
    const { nymph, token } = await makeLinked()
    const { sheet: page } = await loadPublicPage(token, undefined)
    expect(page.labelCode.replace(' ', '')).toBe(nymph.label)
    expect(page.kicker[0]).toMatch(/^Link keeper/)
    expect(page.foot).toMatchObject({
      contact: 'hello@link-keeper.example',
      terms: 'Photos within 24 hours.',
    })
    expect(page.sections.length).toBeGreaterThan(4)
  })

  test('shows today’s records, in the reader’s language', async () => {
    const { nymph, token } = await makeLinked()
    await callApi(postMoult, { token: rack.token, params: { id: nymph.id }, body: { on: rack.day(-1) } })
    const { sheet: page } = await loadPublicPage(token, 'de')
    expect(page.lines.join(' ')).toMatch(/4\. /)
    expect((await loadPublicPage(token, 'klingon')).sheet.language).toBe('en')
  })

  test('shows nothing of notes, supplier, zone or siblings', async () => {
    const { nymph, token } = await makeLinked()
    await within(rack.owner, (tx, { workspaceId }) =>
      tx.individual.updateMany({
        where: { workspaceId, id: nymph.id },
        data: { notes: 'CANARY-NOTE', supplier: 'CANARY-SUPPLIER' },
      }),
    )
    const shown = JSON.stringify(await loadPublicPage(token, undefined))
    expect(shown).not.toMatch(/CANARY|Warm room|Cup 120|C-\d/)
    for (const id of [rack.owner.workspaceId, nymph.id, nymph.clutchId, rack.zone])
      expect(shown).not.toContain(id)
  })

  test('that was revoked, never was, or belongs to a dead animal is one and the same missing page', async () => {
    const { nymph, token } = await makeLinked()
    const dead = await makeLinked()
    await revoke(nymph)
    await callApi(postDeath, { token: rack.token, params: { id: dead.nymph.id }, body: { on: rack.day(0) } })
    const never = token.replaceAll(/[A-Za-z]/g, 'x')
    for (const wrong of [token, dead.token, never, 'short', `${token}x`, "' or true --"])
      await expect(loadPublicPage(wrong, undefined)).rejects.toMatchObject(MISSING)
  })

  test('is opened under a new address by the next sheet, while the old one stays dead', async () => {
    const { nymph, token } = await makeLinked()
    await revoke(nymph)
    const next = await printed(nymph)
    expect(next).not.toBe(token)
    expect((await loadPublicPage(next, undefined)).sheet.labelCode.replace(' ', '')).toBe(nymph.label)
    await expect(loadPublicPage(token, undefined)).rejects.toMatchObject(MISSING)
  })

  test('is revoked once, and by its own workspace alone', async () => {
    const { nymph, token } = await makeLinked()
    await expect(revoke(nymph, other.owner)).rejects.toMatchObject({ code: 'not-found' })
    await loadPublicPage(token, undefined)
    await revoke(nymph)
    await expect(revoke(nymph)).rejects.toMatchObject({ code: 'stale' })
  })

  test('is found by a hash: the token itself is stored nowhere', async () => {
    const { token } = await makeLinked()
    const bytes = Buffer.from(token)
    const stored = await countAsSignIn(
      'select count(*) from public_link where position($1::bytea in token_hash) > 0 or token_hash = $1',
      [bytes],
    )
    expect(stored).toBe(0)
    expect(token).toMatch(/^[\w-]{27}$/)
  })
})
