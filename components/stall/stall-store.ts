import type { StallPart, StallReceiptSent, StallWho } from '@/lib/features/stall/schema'

/** A receipt as the device keeps it. Whoever it names leaves the device with it. */
export type KeptReceipt = {
  sent: StallReceiptSent
  totalMinor: number
  changeMinor: number
  labels: string[]
  state: 'waiting' | 'sent' | 'refused'
  /** what the service said of it */
  told?: string
}

/** All that a device has of shows: its parts, its receipts, who was last known to be signed in, its own id. */
export type KeptStall = {
  device: string
  parts: StallPart[]
  receipts: KeptReceipt[]
  who: StallWho | null
}

export type StallChange = {
  putParts?: readonly StallPart[]
  removeParts?: readonly StallPart[]
  putReceipts?: readonly KeptReceipt[]
  removeReceipts?: readonly string[]
  who?: StallWho | null
}

const NAME = 'stall'
const STORES = ['parts', 'receipts', 'device']

export const isUnsentReceipt = ({ state }: KeptReceipt) => state !== 'sent'

function openDatabase(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1)
    request.onupgradeneeded = () => {
      const { result: database } = request
      database.createObjectStore('parts', { keyPath: ['part.series', 'workspace.id', 'person.id'] })
      database.createObjectStore('receipts', { keyPath: 'sent.id' })
      database.createObjectStore('device', { keyPath: 'name' })
    }
    // A page of a newer build must not wait for this one.
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close()
      resolve(request.result)
    }
    request.onerror = () => reject(request.error)
  })
}

/** One transaction on everything: `work` gets what is kept and says what is to change, or null for nothing. */
function change<T>(
  database: IDBDatabase,
  work: (kept: KeptStall) => { change: StallChange | null; value: T },
): Promise<T> {
  return new Promise((resolve, reject) => {
    const transaction = database.transaction(STORES, 'readwrite', { durability: 'strict' })
    const [parts, receipts, device] = STORES.map((store) => transaction.objectStore(store))
    if (!parts || !receipts || !device) return reject(new Error('a store is missing'))
    const asked = [parts.getAll(), receipts.getAll(), device.get('who'), device.get('id')] as const
    let value: T
    asked[3].onsuccess = () => {
      const [knownParts, knownReceipts, who, id] = asked.map(({ result }) => result)
      const own = typeof id?.id === 'string' ? id.id : crypto.randomUUID()
      if (!id) device.put({ name: 'id', id: own })
      const kept = { device: own, parts: knownParts, receipts: knownReceipts, who: who?.who ?? null }
      const made = work(kept)
      value = made.value
      if (made.change) put({ parts, receipts, device }, made.change)
    }
    transaction.oncomplete = () => resolve(value)
    transaction.onerror = () => reject(transaction.error)
    transaction.onabort = () => reject(transaction.error)
  })
}

type Stores = { parts: IDBObjectStore; receipts: IDBObjectStore; device: IDBObjectStore }

function put({ parts, receipts, device }: Stores, wanted: StallChange): void {
  for (const part of wanted.putParts ?? []) parts.put(part)
  for (const { part, workspace, person } of wanted.removeParts ?? [])
    parts.delete([part.series, workspace.id, person.id])
  for (const receipt of wanted.putReceipts ?? []) receipts.put(receipt)
  for (const id of wanted.removeReceipts ?? []) receipts.delete(id)
  if (wanted.who) device.put({ name: 'who', who: wanted.who })
  if (wanted.who === null) device.delete('who')
}

/**
 * Where a device keeps its receipts: on disk, with the promise that what was confirmed survives a dead battery. Two
 * pages of one device share it, so a number is given out within one transaction.
 */
export type StallStore = {
  read(): Promise<KeptStall>
  write(wanted: StallChange): Promise<void>
  /**
   * Gives the next number of a part's series to a receipt and keeps it with its part; null where one of its animals is on
   * another one of the series. `known` is what the page knows beside the disk.
   */
  writeReceipt(
    part: StallPart,
    known: readonly KeptReceipt[],
    make: (number: number) => KeptReceipt,
  ): Promise<KeptReceipt | null>
}

/** `keeps-nothing` in some private windows: without a disk no receipt may be numbered. */
export async function openStallStore(): Promise<StallStore | 'keeps-nothing'> {
  try {
    const database = await openDatabase()
    return {
      read: () => change(database, (kept) => ({ change: null, value: kept })),
      write: (wanted) => change(database, () => ({ change: wanted, value: undefined })),
      writeReceipt: (part, known, make) =>
        change(database, ({ parts, receipts }) => {
          const { series } = part.part
          const all = { parts: [...parts, part], receipts: [...receipts, ...known] }
          const made = make(nextNumber(all, series))
          const taken = listSoldIn(all.receipts, series)
          if (made.sent.animals.some(({ individual }) => taken.has(individual)))
            return { change: null, value: null }
          return { change: { putReceipts: [made], putParts: [part] }, value: made }
        }),
    }
  } catch {
    // Said on the screen: the counter with a connection is the way then.
    return 'keeps-nothing'
  }
}

/** The number after the last one that the service has or this device has written, whichever is later. */
export function nextNumber(
  { parts, receipts }: Pick<KeptStall, 'parts' | 'receipts'>,
  series: string,
): number {
  const arrived = parts.filter(({ part }) => part.series === series).map(({ part }) => part.lastNumber)
  const written = receipts.filter(({ sent }) => sent.series === series).map(({ sent }) => sent.number)
  return Math.max(0, ...arrived, ...written) + 1
}

/** Animals that are on a receipt of a series. One that came back may be sold from a later box. */
export function listSoldIn(receipts: readonly KeptReceipt[], series: string): Set<string> {
  const own = receipts.filter(({ sent }) => sent.series === series)
  return new Set(own.flatMap(({ sent }) => sent.animals.map(({ individual }) => individual)))
}

/** How many of each thing of a part are on receipts that the service had not yet when the part was read, by number. */
export function countSoldIn(
  receipts: readonly KeptReceipt[],
  { series, lastNumber }: Pick<StallPart['part'], 'series' | 'lastNumber'>,
): Map<number, number> {
  const sold = new Map<number, number>()
  for (const { sent } of receipts)
    if (sent.series === series && sent.number > lastNumber)
      for (const { item, quantity } of sent.goods ?? []) sold.set(item, (sold.get(item) ?? 0) + quantity)
  return sold
}

const keyOf = ({ part, workspace, person }: StallPart) => [part.series, workspace.id, person.id].join(' ')

/** What stays on the screen of a device that was signed out: what is on its disk, and what was there before. */
export function withForgotten(before: KeptStall, kept: KeptStall): KeptStall {
  const parts = new Set(kept.parts.map(keyOf))
  const receipts = new Set(kept.receipts.map(({ sent }) => sent.id))
  return {
    ...kept,
    who: kept.who ?? before.who,
    parts: [...before.parts.filter((part) => !parts.has(keyOf(part))), ...kept.parts],
    receipts: [...before.receipts.filter(({ sent }) => !receipts.has(sent.id)), ...kept.receipts],
  }
}

/** What a signed-out device gives up: everything but the receipts that were not sent, and the parts they belong to. */
export function forgettingStall({ parts, receipts }: KeptStall): StallChange {
  const needed = new Set(receipts.filter(isUnsentReceipt).map(({ sent }) => sent.series))
  return {
    removeReceipts: receipts.filter((receipt) => !isUnsentReceipt(receipt)).map(({ sent }) => sent.id),
    removeParts: parts.filter(({ part }) => !needed.has(part.series)),
    who: null,
  }
}

/** How many receipts stand on this device alone. */
export async function countUnsentReceipts(): Promise<number> {
  const store = await openStallStore()
  if (store === 'keeps-nothing') return 0
  return (await store.read()).receipts.filter(isUnsentReceipt).length
}

/** What a device keeps after signing out: the receipts that were not sent, and nothing else. */
export async function forgetSentReceipts(): Promise<void> {
  const store = await openStallStore()
  if (store !== 'keeps-nothing') await store.write(forgettingStall(await store.read()))
}
