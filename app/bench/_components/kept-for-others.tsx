'use client'

import type { DeviceState } from '@/components/bench/queue/bench-device'
import { type Entry, isUnsent } from '@/components/bench/queue/entry'
import { ownership } from '@/components/bench/queue/send'
import { Button } from '@/components/ui/button'
import { Notice } from '@/components/ui/notice'
import { saveAsFile } from './save-as-file'

/** Entries that are kept and named, and never sent under the wrong name. */
export function KeptForOthers({ state }: { state: DeviceState }) {
  return listOthers(state).map(({ key, what, why, entries }) => (
    <Notice
      key={key}
      state="due"
      what={what}
      why={why}
      next={
        <Button kind="quiet" onClick={() => saveAsFile(entries)}>
          Save as a file
        </Button>
      }
    />
  ))
}

type Others = { key: string; what: string; why: string; entries: Entry[] }

/** By person and workspace: whose the entries are, and what they wait for. */
export function listOthers({ entries, runs, who }: Pick<DeviceState, 'entries' | 'runs' | 'who'>): Others[] {
  const others = (entries ?? []).filter((entry) => isUnsent(entry) && who && ownership(entry, who) !== 'own')
  const groups = new Map<string, Entry[]>()
  for (const entry of others) {
    const key = `${entry.operation.personId} ${entry.operation.workspaceId}`
    groups.set(key, [...(groups.get(key) ?? []), entry])
  }
  return [...groups].map(([key, group]) => {
    const known = runs.find(({ run, person }) =>
      group.some((entry) => entry.run === run.id && entry.operation.personId === person.id),
    )
    const place = known ? ` at ${known.workspace.name}` : ''
    const count = group.length === 1 ? '1 entry' : `${group.length} entries`
    const isOwn = group.every(({ operation }) => operation.personId === who?.person.id)
    const name = isOwn ? 'you' : (known?.person.name ?? 'somebody else')
    return {
      key,
      entries: group,
      what: `${count} by ${name}${place} ${group.length === 1 ? 'is' : 'are'} kept on this device.`,
      why: isOwn
        ? 'You do not belong to that workspace now, or may not count there. Its owner can take the file.'
        : `Not sent under your name: ${known?.person.name ?? 'whoever tapped them'} has to sign in here to send them.`,
    }
  })
}
