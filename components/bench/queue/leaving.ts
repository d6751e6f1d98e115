import { isUnsent } from './entry'
import { type Change, type Kept, openDeviceStore } from './store'

/** How many entries at the bench stand on this device alone. */
export async function countUnsent(): Promise<number> {
  const { entries } = await (await openDeviceStore()).read()
  return entries.filter(isUnsent).length
}

/** What a signed-out device gives up: everything but the entries that were not sent, and the runs they belong to. */
export function forgetting({ entries, runs }: Kept): Change {
  const needed = new Set(entries.filter(isUnsent).map(({ run }) => run))
  return {
    remove: entries.filter(({ run }) => !needed.has(run)).map(({ operation }) => operation.id),
    removeRuns: runs.filter(({ run }) => !needed.has(run.id)),
    who: null,
  }
}

/** What a device keeps after signing out: the entries that were not sent with their runs, and nothing else. */
export async function forgetSent(): Promise<void> {
  const store = await openDeviceStore()
  await store.write(forgetting(await store.read()))
}
