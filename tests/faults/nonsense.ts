import type { SeededStream } from '@/lib/domain/random/seeded'

/** Values that a broken till, a bored stranger or a wrong column of a sheet sends. */
const NONSENSE: unknown[] = [
  null,
  '',
  ' ',
  '0',
  'nonsense',
  "'; drop table sale; --",
  '<script>alert(1)</script>',
  '\u0000',
  '\ud800',
  '🦗'.repeat(300),
  'x'.repeat(30_000),
  -1,
  0,
  0.5,
  1e308,
  2 ** 53,
  true,
  [],
  {},
  [null],
  [[[[[[]]]]]],
  { $ne: null },
  { set: 1 },
  '2026-02-30',
  '0000-00-00',
  '9999-12-31',
  '2026-03-20T10:00:00Z',
  '00000000-0000-0000-0000-000000000000',
  'ffffffff-ffff-ffff-ffff-ffffffffffff',
]

type Holder = Record<string, unknown> | unknown[]
const isHolder = (value: unknown): value is Holder => typeof value === 'object' && value !== null

/** Every place in a value that can be replaced: the holder and the key in it. */
function listPlaces(value: unknown): { holder: Holder; key: string }[] {
  if (!isHolder(value)) return []
  return Object.keys(value).flatMap((key) => [
    { holder: value, key },
    ...listPlaces((value as Record<string, unknown>)[key]),
  ])
}

/** A body that was right, with one to three things wrong in it: replaced, left out, added, doubled. */
export function spoil(body: unknown, stream: SeededStream): unknown {
  const spoiled = structuredClone(body)
  const wrongs = 1 + stream.integer(0, 2)
  for (let wrong = 0; wrong < wrongs; wrong++) {
    const places = listPlaces(spoiled)
    if (places.length === 0) return structuredClone(stream.pick(NONSENSE))
    const { holder, key } = stream.pick(places)
    const record = holder as Record<string, unknown>
    const way = stream.integer(0, 9)
    if (way < 6) record[key] = structuredClone(stream.pick(NONSENSE))
    else if (way < 8) delete record[key]
    else if (way < 9) record[`${key}More`] = record[key]
    else record[key] = [record[key], record[key]]
  }
  return spoiled
}

/** A path with a part or its question replaced. */
export function spoilAddress(address: string, stream: SeededStream): string {
  const way = stream.integer(0, 3)
  const words = [
    'limit=0',
    'limit=x',
    'cursor=x',
    'asOf=2026-02-30',
    'asOf=1900-01-01',
    'extra=1',
    'species=%00',
    'on=9999-12-31',
    'from=x&weeks=-1',
    'weeks=1e9',
  ]
  if (way === 0) return `${address}?${stream.pick(words)}`
  if (way === 1) return address.replace(/[0-9a-f]{8}-[0-9a-f-]{27}/, encodeURIComponent(spoiledId(stream)))
  return address
}

/** Never empty: that would be another address, not another id. */
function spoiledId(stream: SeededStream): string {
  const text = String(stream.pick(NONSENSE)) || 'none'
  return text.slice(0, 200).replace(/\p{Surrogate}/gu, 'x')
}
