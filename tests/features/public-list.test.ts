import { beforeAll, describe, expect, test } from 'vitest'
import { createBuyer } from '@/lib/features/buyer/mutations'
import { createPriceList, updateAnimalPrice } from '@/lib/features/price-list/mutations'
import { loadPublicForSale, loadPublicPage } from '@/lib/features/public-link/loaders'
import { loadPublicList } from '@/lib/features/public-list/data'
import { revokePublicList, updatePublicList } from '@/lib/features/public-list/mutations'
import { createReservation } from '@/lib/features/reservation/mutations'
import { requireSpecies } from '@/lib/features/species/data'
import { LANGUAGES } from '@/lib/messages/language'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { within } from '@/tests/support/workspaces'

requireDatabase()

const MISSING = { digest: 'NEXT_HTTP_ERROR_FALLBACK;404' }

let rack: Rack
let nymphs: Nymph[]
beforeAll(async () => {
  rack = await makeRack('Window shop')
  const brood = { hatchedOn: rack.day(-40), partedOn: rack.day(-3), moults: 3, lastMoultOn: rack.day(-3) }
  nymphs = await makeNymphs(rack, { count: 4, ...brood })
  await within(rack.owner, async (tx, workspace) => {
    const { workspaceId } = workspace
    await tx.workspace.update({ where: { workspaceId }, data: { contact: 'ask@window.example' } })
    const species = await requireSpecies(tx, workspaceId, 'creobroter-spp')
    const { id: list } = await createPriceList(tx, workspaceId, { name: 'Shop' })
    await updateAnimalPrice(tx, workspace, { list, species: species.id, price: 18 })
    await tx.individual.updateMany({
      where: { workspaceId, id: nymphs[0]?.id },
      data: { notes: 'CANARY-NOTE', supplier: 'CANARY-SUPPLIER' },
    })
  })
})

const look = () => within(rack.owner, (tx, { workspaceId }) => loadPublicList(tx, workspaceId))
const open = (saysCounts = false) =>
  within(rack.owner, (tx, { workspaceId }) => updatePublicList(tx, workspaceId, { saysCounts }))
const close = async (room = rack) => {
  const version = (await look())?.version ?? 0
  await within(room.owner, (tx, { workspaceId }) => revokePublicList(tx, workspaceId, { version }))
}
const tokenOf = (address = '') => address.replace(/^.*\/p\//, '').replace(/\/for-sale$/, '')

describe('the public list of what is for sale', () => {
  test('is closed until somebody opens it', async () => {
    expect(await look()).toBeNull()
  })

  test('says species, stage, sex and price, “some” or how many, and whom to ask', async () => {
    await open()
    const token = tokenOf((await look())?.address)
    const list = await loadPublicForSale(token, undefined)
    expect(list).toMatchObject({ seller: 'Window shop', contact: 'ask@window.example', language: 'en' })
    expect(list.species).toEqual([
      {
        scientificName: 'Creobroter spp.',
        lines: [{ stage: '4th instar', sex: '? sex not known yet', available: 'some', price: '€18.00' }],
      },
    ])
    await open(true)
    expect((await loadPublicForSale(token, undefined)).species[0]?.lines[0]?.available).toBe('4')
  })

  test('speaks every language', async () => {
    const token = tokenOf((await look())?.address)
    const titles = await Promise.all(
      LANGUAGES.map(async (one) => (await loadPublicForSale(token, one)).title),
    )
    expect(new Set(titles).size).toBe(LANGUAGES.length)
    expect((await loadPublicForSale(token, 'klingon')).language).toBe('en')
  })

  test('shows nobody’s records: no label, note, supplier, buyer or id, and nothing that is held', async () => {
    const token = tokenOf((await look())?.address)
    await within(rack.owner, async (tx, workspace) => {
      const person = { email: '', phone: '', address: '', country: '', note: '', language: '' as const }
      const more = { experience: 'unknown' as const, keepConsent: true, newsConsent: false }
      const buyer = await createBuyer(tx, workspace, { name: 'CANARY-BUYER', ...person, ...more })
      const held = { buyer: buyer.id, individuals: [String(nymphs[1]?.id)], until: rack.day(3) }
      await createReservation(tx, { scope: rack.owner, workspace }, held)
    })
    const list = await loadPublicForSale(token, undefined)
    expect(list.species[0]?.lines[0]?.available).toBe('3')
    const shown = JSON.stringify(list)
    expect(shown).not.toMatch(/CANARY|Warm room|Cup 120/)
    for (const { id, label, clutchId } of nymphs)
      for (const secret of [id, label, clutchId, rack.owner.workspaceId]) expect(shown).not.toContain(secret)
  })

  test('is no page of a sheet, and a sheet’s page is no list', async () => {
    await expect(loadPublicPage(tokenOf((await look())?.address), undefined)).rejects.toMatchObject(MISSING)
  })

  test('closed, its address is dead for good; opened again it has another', async () => {
    const first = tokenOf((await look())?.address)
    await close()
    expect(await look()).toBeNull()
    await expect(loadPublicForSale(first, undefined)).rejects.toMatchObject(MISSING)
    await open()
    const next = tokenOf((await look())?.address)
    expect(next).not.toBe(first)
    expect((await loadPublicForSale(next, undefined)).seller).toBe('Window shop')
    await expect(loadPublicForSale(first, undefined)).rejects.toMatchObject(MISSING)
  })

  test('is closed by its own workspace alone, and once', async () => {
    const other = await makeRack('Stranger’s window')
    await expect(close(other)).rejects.toMatchObject({ code: 'stale' })
    expect(await look()).not.toBeNull()
    await close()
    await expect(close()).rejects.toMatchObject({ code: 'stale' })
  })
})
