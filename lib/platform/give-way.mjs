// Imported first by whoever does long work beside the service: it runs where nothing that is being waited for wants to.
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { isMainThread } from 'node:worker_threads'

const { PRIORITY_LOW } = os.constants.priority

/** Linux gives every thread a priority of its own; elsewhere that of a process is one, and a thread keeps it. */
function giveWay() {
  if (isMainThread) return os.setPriority(PRIORITY_LOW)
  if (process.platform !== 'linux') return
  os.setPriority(Number(path.basename(fs.readlinkSync('/proc/thread-self'))), PRIORITY_LOW)
}

giveWay()
