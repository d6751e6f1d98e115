import type { Calls } from './call'
import { READS } from './reads'
import { WRITES } from './writes'

export const CALLS: Calls = { ...READS, ...WRITES }
export const isWrite = (name: string) => name in WRITES
