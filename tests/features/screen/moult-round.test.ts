import { describe, expect, it, vi } from 'vitest'
import {
  type DeviceRound,
  isUnsent,
  newRound,
  passShelf,
  reopenShelf,
  settleSending,
} from '@/components/moult-round/device-round'
import { RoundKeeper, type Send } from '@/components/moult-round/round-keeper'

const SKIN = { outcome: 'good' as const, final: false, seenFrom: '' }
const shelf = (key: string, cups: string[], groups: string[] = []) => ({
  key,
  cups: cups.map((id) => ({ id })),
  groups: groups.map((id) => ({ id })),
})
function ids(): () => string {
  let number = 0
  return () => `key-${++number}`
}
const begun: DeviceRound = {
  ...newRound('round', '2026-11-25'),
  skins: { b: SKIN },
  groups: { g: { moulted: 'some', sizeGap: false, hunger: false } },
}

describe('a moult round on the device', () => {
  it('sends a passed shelf as skins and looks, and of a group only what was said of it', () => {
    const { queue, passed } = passShelf(begun, shelf('one', ['a', 'b'], ['g', 'h']), {
      isLast: false,
      newId: ids(),
    })
    expect(passed).toEqual(['one'])
    expect(queue.map(({ kind, input }) => [kind, input])).toEqual([
      ['clutch', { clutch: 'g', on: '2026-11-25', moulted: 'some', sizeGap: false, hunger: false }],
      [
        'shelf',
        {
          round: 'round',
          on: '2026-11-25',
          skins: [{ individual: 'b', outcome: 'good', final: false }],
          passed: ['a'],
          signs: [],
          isLast: false,
        },
      ],
    ])
  })

  it('gives a shelf back with its skins while it waits', () => {
    const waiting = passShelf(begun, shelf('one', ['a', 'b']), { isLast: true, newId: ids() })
    expect(waiting.isFinished).toBe(true)
    expect(reopenShelf(waiting, 'one')).toEqual({ ...begun, isFinished: false })
  })

  it('holds what was refused until somebody looked at it', () => {
    const waiting = passShelf(begun, shelf('one', ['b']), { isLast: false, newId: ids() })
    const trouble = { message: 'No.', fields: [] }
    const refused = settleSending(waiting, 'key-1', { trouble })
    expect(refused.queue).toMatchObject([{ id: 'key-1', trouble }])
    expect(isUnsent(refused)).toBe(true)
    const taken = settleSending(waiting, 'key-1', { recorded: { looks: 1, moults: 1, warnings: [] } })
    expect(taken).toMatchObject({ queue: [], recorded: { one: { looks: 1, moults: 1 } } })
    expect(isUnsent(taken)).toBe(false)
  })
})

function makeKeeper(send: Send, text: string | null = null) {
  let kept = text
  let aside: string | null = null
  const store = {
    read: () => kept,
    write: (next: string | null) => {
      kept = next
    },
    readAside: () => aside,
    writeAside: (next: string | null) => {
      aside = next
    },
  }
  return { keeper: new RoundKeeper(store, send), read: () => kept, readAside: () => aside }
}
const done = async () => ({ status: 'done' as const, value: { looks: 2, moults: 0 } })

describe('the keeper of a round', () => {
  const waiting = passShelf(
    passShelf(begun, shelf('one', ['a']), { isLast: false, newId: () => 'k1' }),
    shelf('two', ['c']),
    {
      isLast: true,
      newId: () => 'k2',
    },
  )

  it('sends in order, each under its own key, and forgets nothing on a broken connection', async () => {
    const sent: string[] = []
    let isBroken = true
    const { keeper, read } = makeKeeper(async (sending) => {
      sent.push(sending.id)
      if (isBroken) throw new TypeError('Failed to fetch')
      return done()
    })
    keeper.change(waiting)
    await keeper.drain()
    await new Promise((resolve) => setTimeout(resolve))
    expect(keeper.getKept()).toMatchObject({ link: 'waiting' })
    expect(JSON.parse(read() ?? '')).toEqual(waiting)
    isBroken = false
    sent.length = 0
    await keeper.drain()
    expect(sent).toEqual(['k1', 'k2'])
    expect(keeper.getKept()).toMatchObject({ link: 'quiet', round: { queue: [] } })
  })

  it('passes by what was refused and sends the rest', async () => {
    const { keeper } = makeKeeper(async ({ id }) =>
      id === 'k1' ? { status: 'refused', code: 'invalid', message: 'No.' } : done(),
    )
    keeper.change(waiting)
    await new Promise((resolve) => setTimeout(resolve, 5))
    const { round } = keeper.getKept()
    expect(round?.queue.map(({ id }) => id)).toEqual(['k1'])
    expect(round?.recorded).toMatchObject({ two: { looks: 2 } })
  })

  it('puts a damaged round aside and says so, and a later one beside it', () => {
    vi.stubGlobal('window', new EventTarget())
    const cutOff = JSON.stringify(waiting).slice(0, 40)
    const { keeper, read, readAside } = makeKeeper(done, cutOff)
    keeper.start()()
    expect(keeper.getKept()).toMatchObject({ round: null, damaged: cutOff, isLasting: true })
    expect([read(), readAside()]).toEqual([null, cutOff])
    keeper.change(begun)
    expect(readAside()).toBe(cutOff)
    keeper.forgetDamaged()
    expect([keeper.getKept().damaged, readAside()]).toEqual([null, null])
    expect(keeper.getKept().round).toEqual(begun)
    vi.unstubAllGlobals()
  })

  it('takes what is no round for damaged too', () => {
    vi.stubGlobal('window', new EventTarget())
    for (const text of ['17', '{}', 'null', '{"round":"r","queue":{},"skins":{}}']) {
      const { keeper } = makeKeeper(done, text)
      keeper.start()()
      expect(keeper.getKept()).toMatchObject({ round: null, damaged: text })
    }
    vi.unstubAllGlobals()
  })

  it('works on where the storage cannot even be read', () => {
    vi.stubGlobal('window', new EventTarget())
    const closed = (): never => {
      throw new DOMException('closed', 'SecurityError')
    }
    const keeper = new RoundKeeper(
      { read: closed, write: closed, readAside: closed, writeAside: closed },
      done,
    )
    keeper.start()()
    expect(keeper.getKept()).toMatchObject({ isLasting: false, round: null })
    vi.unstubAllGlobals()
  })

  it('says that a browser keeps nothing instead of losing the round', () => {
    const store = {
      read: () => null,
      write: () => {
        throw new DOMException('full', 'QuotaExceededError')
      },
      readAside: () => null,
      writeAside: () => {},
    }
    const keeper = new RoundKeeper(store, done)
    keeper.change(begun)
    expect(keeper.getKept()).toMatchObject({ isLasting: false, round: { round: 'round' } })
  })
})
