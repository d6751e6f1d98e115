/**
 * Which signs a TrueType font can draw, read from its `cmap` table (OpenType specification, formats 4 and 12).
 * Returns the covered code points. Throws RangeError on a file that is no such font.
 */
export function fontCoverage(font: Buffer): Set<number> {
  const cmap = tableOffset(font, 'cmap')
  const covered = new Set<number>()
  for (let index = 0; index < font.readUInt16BE(cmap + 2); index += 1) {
    const subtable = cmap + font.readUInt32BE(cmap + 8 + index * 8)
    const format = font.readUInt16BE(subtable)
    if (format === 4) addSegments(font, subtable, covered)
    if (format === 12) addGroups(font, subtable, covered)
  }
  return covered
}

function tableOffset(font: Buffer, tag: string): number {
  for (let index = 0; index < font.readUInt16BE(4); index += 1) {
    const record = 12 + index * 16
    if (font.toString('latin1', record, record + 4) === tag) return font.readUInt32BE(record + 8)
  }
  throw new RangeError(`font without a ${tag} table`)
}

/** Format 4: segments of the basic plane, each with a delta or an offset into an array of glyphs. */
function addSegments(font: Buffer, subtable: number, covered: Set<number>): void {
  const bytes = font.readUInt16BE(subtable + 6)
  const ends = subtable + 14
  const starts = ends + bytes + 2
  const deltas = starts + bytes
  const offsets = deltas + bytes
  for (let at = 0; at < bytes; at += 2) {
    const start = font.readUInt16BE(starts + at)
    const offset = font.readUInt16BE(offsets + at)
    for (let code = start; code <= font.readUInt16BE(ends + at) && code < 0xffff; code += 1) {
      const glyphAt = offsets + at + offset + (code - start) * 2
      const raw = offset === 0 ? code : font.readUInt16BE(glyphAt)
      const hasGlyph = raw !== 0 && ((raw + font.readUInt16BE(deltas + at)) & 0xffff) !== 0
      if (hasGlyph) covered.add(code)
    }
  }
}

/** Format 12: groups of code points of all planes, each a run of glyphs. */
function addGroups(font: Buffer, subtable: number, covered: Set<number>): void {
  for (let index = 0; index < font.readUInt32BE(subtable + 12); index += 1) {
    const group = subtable + 16 + index * 12
    const start = font.readUInt32BE(group)
    const end = font.readUInt32BE(group + 4)
    for (let code = start; code <= end; code += 1)
      if (font.readUInt32BE(group + 8) + code - start > 0) covered.add(code)
  }
}
