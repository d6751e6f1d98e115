import type { BenchWho } from '@/lib/features/bench/schema'
import type { Entry, KeptRun } from './entry'

/** All that a device has: its taps, the runs they belong to, and who was last known to be signed in. */
export type Kept = { entries: Entry[]; runs: KeptRun[]; who: BenchWho | null }

/** What is to change together, or not at all. */
export type Change = {
  put?: readonly Entry[]
  remove?: readonly string[]
  putRuns?: readonly KeptRun[]
  removeRuns?: readonly KeptRun[]
  who?: BenchWho | null
}

/**
 * Where a device keeps its taps: on disk, with the promise that what was confirmed survives a dead battery. Where the
 * browser has no such place (some private windows), in memory alone, and the bench says so.
 */
export type DeviceStore = {
  isLasting: boolean
  read(): Promise<Kept>
  write(change: Change): Promise<void>
}

const NAME = 'bench'
const VERSION = 2
const STORES = ['entries', 'runs', 'device']

function openDatabase(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, VERSION)
    request.onupgradeneeded = () => {
      const { result: database } = request
      const has = (store: string) => database.objectStoreNames.contains(store)
      if (!has('entries')) database.createObjectStore('entries', { keyPath: 'operation.id' })
      if (!has('runs')) database.createObjectStore('runs', { keyPath: ['run.id', 'person.id'] })
      if (!has('device')) database.createObjectStore('device', { keyPath: 'name' })
    }
    // A page of a newer build must not wait for this one.
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close()
      resolve(request.result)
    }
    request.onerror = () => reject(request.error)
  })
}

function isEntry(value: unknown): value is Entry {
  return (
    typeof value === 'object' && value !== null && 'order' in value && 'operation' in value && 'tap' in value
  )
}

function isRun(value: unknown): value is KeptRun {
  return typeof value === 'object' && value !== null && 'run' in value && 'standing' in value
}

function readWho(value: unknown): BenchWho | null {
  const isWho = typeof value === 'object' && value !== null && 'person' in value && 'workspaces' in value
  return isWho ? (value as { name: string } & BenchWho) : null
}

function readKept(database: IDBDatabase): Promise<Kept> {
  return new Promise((resolve, reject) => {
    const transaction = database.transaction(STORES)
    const entries = transaction.objectStore('entries').getAll()
    const runs = transaction.objectStore('runs').getAll()
    const who = transaction.objectStore('device').get('who')
    transaction.oncomplete = () =>
      resolve({
        entries: entries.result.filter(isEntry),
        runs: runs.result.filter(isRun),
        who: readWho(who.result),
      })
    transaction.onerror = () => reject(transaction.error)
  })
}

function writeChange(database: IDBDatabase, change: Change): Promise<void> {
  return new Promise((resolve, reject) => {
    const transaction = database.transaction(STORES, 'readwrite', { durability: 'strict' })
    const [entries, runs] = [transaction.objectStore('entries'), transaction.objectStore('runs')]
    for (const entry of change.put ?? []) entries.put(entry)
    for (const id of change.remove ?? []) entries.delete(id)
    for (const run of change.putRuns ?? []) runs.put(run)
    for (const { run, person } of change.removeRuns ?? []) runs.delete([run.id, person.id])
    const device = transaction.objectStore('device')
    if (change.who) device.put({ name: 'who', ...change.who })
    if (change.who === null) device.delete('who')
    transaction.oncomplete = () => resolve()
    transaction.onerror = () => reject(transaction.error)
    transaction.onabort = () => reject(transaction.error)
  })
}

function passingStore(): DeviceStore {
  const nothing: Kept = { entries: [], runs: [], who: null }
  // The device object holds everything in memory anyway; there is nothing more to be read.
  return { isLasting: false, read: async () => nothing, write: async () => {} }
}

export async function openDeviceStore(): Promise<DeviceStore> {
  try {
    const database = await openDatabase()
    return {
      isLasting: true,
      read: () => readKept(database),
      write: (change) => writeChange(database, change),
    }
  } catch {
    // Said on the screen through isLasting: the bench works on, and must not be left before all is sent.
    return passingStore()
  }
}
