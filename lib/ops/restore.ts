// npm run restore -- FOLDER [--in-place]: a backup into a database of its own, compared row by row; with --in-place
// that database then takes the place of the present one, which is kept under another name.
import path from 'node:path'
import { parseArgs } from 'node:util'
import { urlOfDatabase } from '@/lib/ops/database/connection.mjs'
import { createDatabase, dropDatabase, renameDatabases } from '@/lib/ops/database/prepare.mjs'
import { Refusal, say } from '@/lib/ops/say.mjs'
import { readSecrets } from '@/lib/ops/secrets.mjs'
import { markOfKey } from './backup/folder'
import { restoreBackup } from './backup/restore'

function readArguments(args: string[]): { folder: string; isInPlace: boolean } {
  const { values, positionals } = parseArgs({
    args,
    options: { 'in-place': { type: 'boolean', default: false } },
    allowPositionals: true,
  })
  const [folder] = positionals
  if (!folder) throw new Refusal('Name the folder of the backup: npm run restore -- FOLDER [--in-place]')
  return { folder: path.resolve(folder), isInPlace: values['in-place'] }
}

function refuseWhileServing(): void {
  if (!process.env.IS_SERVING) return
  throw new Refusal('Stop Oothecary first (Ctrl-C where it runs): a database in use cannot be replaced.')
}

export async function main(args: string[]): Promise<void> {
  const { folder, isInPlace } = readArguments(args)
  if (isInPlace) refuseWhileServing()
  const { DATABASE_URL: adminUrl = '', DATA_DIR: dataFolder = '', LINK_KEY: linkKey = '' } = process.env
  const present = decodeURIComponent(new URL(adminUrl).pathname.slice(1))
  const moment = new Date().toISOString().replace(/\D/g, '').slice(0, 14)
  const restored = `oothecary_restored_${moment}`
  await createDatabase(adminUrl, restored)
  try {
    const target = {
      adminUrl: urlOfDatabase(adminUrl, restored),
      passwords: readSecrets(dataFolder).passwords,
    }
    const manifest = await restoreBackup(folder, target)
    say(`Restored and compared: every table of every workspace is as it was at ${manifest.madeAt}.`)
    if (manifest.linkKeyMark !== markOfKey(linkKey)) {
      say(
        'This installation has another link key than the one that made the backup: codes printed before stay',
      )
      say('valid, but printing a sheet again gives it a new code. Put back its secrets.json to keep them.')
    }
  } catch (error) {
    await dropDatabase(adminUrl, restored)
    throw error
  }
  if (!isInPlace) {
    say(`It stands in the database ${restored}. To put a backup in place, stop Oothecary and add --in-place.`)
    return
  }
  const kept = `oothecary_replaced_${moment}`
  await renameDatabases(adminUrl, [
    { from: present, to: kept },
    { from: restored, to: present },
  ])
  say(`It is in place. What was there before is kept in the database ${kept}.`)
}
