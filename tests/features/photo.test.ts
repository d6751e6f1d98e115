import sharp from 'sharp'
import { beforeAll, describe, expect, test } from 'vitest'
import { GET as getSheet } from '@/app/api/v1/individuals/[id]/care-sheet.pdf/route'
import { GET as listPhotos, POST as postPhoto } from '@/app/api/v1/individuals/[id]/photos/route'
import { requirePhotoBytes } from '@/lib/features/photo/data'
import { archivePhoto, updatePhoto } from '@/lib/features/photo/mutations'
import { readKind } from '@/lib/platform/files'
import { readPdf } from '@/tests/documents/read-pdf'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { callApi, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Photo shelf')
})

async function makeOne(): Promise<Nymph> {
  const [nymph] = await makeNymphs(rack, { count: 1, hatchedOn: rack.day(-40), moults: 3 })
  if (!nymph) throw new Error('no nymph')
  return nymph
}

const plain = (side = 40) =>
  sharp({ create: { width: side, height: side * 2, channels: 3, background: '#3a6738' } })
/** Noise: the one kind of picture that does not shrink. */
const noise = (side: number) =>
  sharp({
    create: { width: side, height: side, channels: 3, background: '#777' },
  }).composite([
    {
      input: {
        create: {
          width: side,
          height: side,
          channels: 3,
          background: '#777',
          noise: { type: 'gaussian', mean: 128, sigma: 90 },
        },
      },
      blend: 'over' as const,
    },
  ])
const send = (nymph: Nymph, bytes: Uint8Array) =>
  callApi(postPhoto, {
    token: rack.token,
    params: { id: nymph.id },
    body: { picture: Buffer.from(bytes).toString('base64') },
  })
const stored = (nymph: Nymph, photoId: string) =>
  within(rack.owner, (tx, { workspaceId }) =>
    requirePhotoBytes(tx, workspaceId, { photoId, individualId: nymph.id }),
  )

describe('a photo that is sent', () => {
  test.each(['jpeg', 'png', 'webp'] as const)('as %s is kept as a JPEG made anew', async (format) => {
    const nymph = await makeOne()
    const sent = await plain()
      .toFormat(format)
      .withExif({ IFD0: { Copyright: 'CANARY-PLACE' } })
      .toBuffer()
    const answer = await send(nymph, sent)
    expect(answer.status).toBe(201)
    expect(answer.body).toMatchObject({ widthPx: 40, heightPx: 80, onSheet: true })
    const bytes = await stored(nymph, answer.body.id)
    expect(readKind(bytes)).toBe('jpeg')
    expect(Buffer.from(bytes).includes('CANARY-PLACE')).toBe(false)
  })

  test('is judged by what it is and not by its name', async () => {
    const nymph = await makeOne()
    const gif = Buffer.from('R0lGODlhAQABAIAAAAAAAP///yH5BAEAAAAALAAAAAABAAEAAAIBRAA7', 'base64')
    const svg = Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>')
    const cut = (await plain().jpeg().toBuffer()).subarray(0, 60)
    const dressed = Buffer.concat([Buffer.from([0xff, 0xd8, 0xff]), Buffer.from('<?php echo 1;')])
    for (const bytes of [gif, svg, cut, dressed, Buffer.from('hello')]) {
      const answer = await send(nymph, bytes)
      expect(answer.status).toBe(422)
      expect(JSON.stringify(answer.body.errors)).toContain('picture')
    }
  })

  test('with more points than anything can show is refused before it is unpacked', async () => {
    const bomb = await sharp({ create: { width: 7000, height: 7000, channels: 3, background: '#000' } })
      .png({ compressionLevel: 9 })
      .toBuffer()
    expect(bomb.length).toBeLessThan(1_000_000)
    const answer = await send(await makeOne(), bomb)
    expect(answer.status).toBe(422)
    expect(JSON.stringify(answer.body)).toContain('40 million')
  })

  test('is never kept larger than a megabyte, whatever was in it', async () => {
    const nymph = await makeOne()
    const sent = await noise(900).jpeg({ quality: 60 }).toBuffer()
    const answer = await send(nymph, sent)
    expect(answer.status).toBe(201)
    expect((await stored(nymph, answer.body.id)).byteLength).toBeLessThanOrEqual(1_048_576)
  })
})

describe('the photo on a sheet', () => {
  const sheetOf = async (nymph: Nymph) => {
    const request = new Request('http://127.0.0.1/x', { headers: { authorization: `Bearer ${rack.token}` } })
    const response = await getSheet(request, { params: Promise.resolve({ id: nymph.id }) })
    return readPdf(new Uint8Array(await response.arrayBuffer()))
  }
  const choose = (photo: string, version: number, onSheet: boolean) =>
    within(rack.owner, (tx, { workspaceId }) => updatePhoto(tx, workspaceId, { photo, version, onSheet }))

  test('is the first one until another is chosen, and none when it is taken off', async () => {
    const nymph = await makeOne()
    const picture = await plain().png().toBuffer()
    const first = (await send(nymph, picture)).body
    const second = (await send(nymph, picture)).body
    expect([first.onSheet, second.onSheet]).toEqual([true, false])
    expect((await sheetOf(nymph)).pages[0]?.alts).toContain('Photo of this animal')
    await choose(second.id, second.version, true)
    const { body } = await callApi(listPhotos, { token: rack.token, params: { id: nymph.id } })
    expect(body.items.map((photo: { id: string; onSheet: boolean }) => [photo.id, photo.onSheet])).toEqual([
      [second.id, true],
      [first.id, false],
    ])
    await choose(second.id, 2, false)
    expect((await sheetOf(nymph)).pages[0]?.alts).not.toContain('Photo of this animal')
  })

  test('that was taken away is nowhere, and a change of an older look is refused', async () => {
    const nymph = await makeOne()
    const photo = (await send(nymph, await plain().png().toBuffer())).body
    await within(rack.owner, (tx, { workspaceId }) =>
      archivePhoto(tx, workspaceId, { photo: photo.id, version: 1 }),
    )
    await expect(stored(nymph, photo.id)).rejects.toMatchObject({ code: 'not-found' })
    expect((await sheetOf(nymph)).pages[0]?.alts).not.toContain('Photo of this animal')
    await expect(choose(photo.id, 1, true)).rejects.toMatchObject({ code: 'stale' })
  })
})
