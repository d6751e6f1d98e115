// npm run seed: makes the demo workspaces, as `npm run up` does on its first start.

import { disconnectAuth } from '@/lib/platform/auth-database'
import { disconnect } from '@/lib/platform/db'
import { todayIn } from '@/lib/platform/plain-date'
import { hasDemo, seedDemo } from '@/prisma/seed/demo'

const DEMO_SEED = 20_261

/** `--if-empty` says nothing and changes nothing where the demo is already there. */
export async function main(args: string[]): Promise<void> {
  try {
    if (await hasDemo()) {
      if (!args.includes('--if-empty')) console.log('The demo workspaces are already there.')
      return
    }
    await seedDemo({ anchorOn: process.env.DEMO_ANCHOR || todayIn('Europe/Berlin'), seed: DEMO_SEED })
  } finally {
    await disconnect()
    await disconnectAuth()
  }
}
