// npm run backup [-- --to FOLDER]: every table as it stands at one moment, in a folder of its own.
import path from 'node:path'
import { parseArgs } from 'node:util'
import { Refusal, say } from '@/lib/ops/say.mjs'
import { writeBackup } from './backup/write'

function requireVariable(name: string): string {
  const value = process.env[name]
  if (value) return value
  throw new Refusal(`${name} is missing: this is run by npm run backup.`)
}

export async function main(args: string[]): Promise<void> {
  const { values } = parseArgs({ args, options: { to: { type: 'string' } } })
  const dataFolder = requireVariable('DATA_DIR')
  const madeAt = new Date().toISOString()
  const parent = path.resolve(values.to ?? path.join(dataFolder, 'backups'))
  const folder = path.join(parent, madeAt.replaceAll(':', '-').replace(/\.\d+/, ''))
  const manifest = await writeBackup({
    url: requireVariable('BACKUP_DATABASE_URL'),
    linkKey: requireVariable('LINK_KEY'),
    folder,
    madeAt,
  })
  const rows = Object.values(manifest.checksums).flatMap(Object.values<{ rows: number }>)
  say(`Backup written: ${folder}`)
  say(`${rows.reduce((sum, each) => sum + each.rows, 0)} rows in ${manifest.tables.length} tables.`)
  say(`Keep it on another machine, with ${path.join(dataFolder, 'secrets.json')}: printed codes can only be`)
  say('printed again with the keys in it.')
}
