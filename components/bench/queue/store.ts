import type { Entry } from './entry'

/**
 * Where a device keeps its taps: on disk, with the promise that what was confirmed survives a dead battery. Where the
 * browser has no such place (some private windows), in memory alone, and the bench says so.
 */
export type BenchStore = {
  isLasting: boolean
  list(): Promise<Entry[]>
  put(entries: readonly Entry[]): Promise<void>
  remove(ids: readonly string[]): Promise<void>
}

const NAME = 'bench'
const STORE = 'entries'

function openDatabase(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1)
    request.onupgradeneeded = () => request.result.createObjectStore(STORE, { keyPath: 'operation.id' })
    request.onsuccess = () => resolve(request.result)
    request.onerror = () => reject(request.error)
  })
}

function isEntry(value: unknown): value is Entry {
  return (
    typeof value === 'object' && value !== null && 'order' in value && 'operation' in value && 'tap' in value
  )
}

function lastingStore(database: IDBDatabase): BenchStore {
  const write = (change: (store: IDBObjectStore) => void) =>
    new Promise<void>((resolve, reject) => {
      const transaction = database.transaction(STORE, 'readwrite', { durability: 'strict' })
      change(transaction.objectStore(STORE))
      transaction.oncomplete = () => resolve()
      transaction.onerror = () => reject(transaction.error)
      transaction.onabort = () => reject(transaction.error)
    })
  return {
    isLasting: true,
    list: () =>
      new Promise((resolve, reject) => {
        const request = database.transaction(STORE).objectStore(STORE).getAll()
        request.onsuccess = () => resolve(request.result.filter(isEntry))
        request.onerror = () => reject(request.error)
      }),
    put: (entries) =>
      write((store) => {
        for (const entry of entries) store.put(entry)
      }),
    remove: (ids) =>
      write((store) => {
        for (const id of ids) store.delete(id)
      }),
  }
}

function passingStore(): BenchStore {
  const kept = new Map<string, Entry>()
  return {
    isLasting: false,
    list: async () => [...kept.values()],
    put: async (entries) => {
      for (const entry of entries) kept.set(entry.operation.id, entry)
    },
    remove: async (ids) => {
      for (const id of ids) kept.delete(id)
    },
  }
}

export async function openBenchStore(): Promise<BenchStore> {
  try {
    return lastingStore(await openDatabase())
  } catch {
    // Said on the screen through isLasting: the bench works on, and must not be left before all is sent.
    return passingStore()
  }
}
