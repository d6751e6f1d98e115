import { isUnsent } from './entry'
import { openDeviceStore } from './store'

/** How many entries at the bench stand on this device alone. */
export async function countUnsent(): Promise<number> {
  const { entries } = await (await openDeviceStore()).read()
  return entries.filter(isUnsent).length
}

/** What a device keeps after signing out: the entries that were not sent with their runs, and nothing else. */
export async function forgetSent(): Promise<void> {
  const store = await openDeviceStore()
  const { entries, runs } = await store.read()
  const unsent = entries.filter(isUnsent)
  const isNeeded = (run: string) => unsent.some((entry) => entry.run === run)
  await store.write({
    remove: entries.filter(({ run }) => !isNeeded(run)).map(({ operation }) => operation.id),
    removeRuns: runs.filter(({ run }) => !isNeeded(run.id)),
    who: null,
  })
}
