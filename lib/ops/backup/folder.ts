import { createHash, type Hash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { Transform } from 'node:stream'
import { z } from 'zod'
import { Refusal } from '@/lib/ops/say.mjs'

const manifestSchema = z.strictObject({
  format: z.literal(1),
  madeAt: z.string(),
  serverVersion: z.string(),
  /** The migrations the data were written under, in their order. */
  migrations: z.array(z.string()),
  /** Tells whether two installations print the same public links, without telling the key. */
  linkKeyMark: z.string(),
  tables: z.array(
    z.strictObject({ name: z.string(), columns: z.array(z.string()), file: z.string(), sha256: z.string() }),
  ),
  sequences: z.array(z.strictObject({ name: z.string(), lastValue: z.string().nullable() })),
  checksums: z.record(
    z.string(),
    z.record(z.string(), z.strictObject({ rows: z.number().int(), sum: z.string() })),
  ),
})

export type Manifest = z.infer<typeof manifestSchema>

const manifestFile = (folder: string) => path.join(folder, 'manifest.json')

export const markOfKey = (key: string): string =>
  createHash('sha256').update(`link key ${key}`).digest('hex').slice(0, 12)

/** Written last and renamed with the folder: a folder with a manifest is a whole backup. */
export function writeManifest(folder: string, manifest: Manifest): void {
  fs.writeFileSync(manifestFile(folder), `${JSON.stringify(manifest, null, 2)}\n`, { mode: 0o600 })
}

export function readManifest(folder: string): Manifest {
  if (!fs.existsSync(manifestFile(folder))) {
    throw new Refusal(`${folder} is no backup: it has no manifest.json.`)
  }
  const parsed = manifestSchema.safeParse(JSON.parse(fs.readFileSync(manifestFile(folder), 'utf8')))
  if (parsed.success) return parsed.data
  throw new Refusal(`${manifestFile(folder)} is damaged or was made by another version of Oothecary.`)
}

/** Lets bytes pass and takes their fingerprint. */
export function fingerprint(hash: Hash): Transform {
  return new Transform({
    transform(chunk, _encoding, done) {
      hash.update(chunk)
      done(null, chunk)
    },
  })
}
