/**
 * A keyed permutation of 0…size−1: every number has exactly one image, neighbours land far apart.
 * Feistel network over two halves, walked until the image lies inside the range (at most a few steps, as
 * the network is never more than four times as large). Not a secret: it keeps codes from being guessable
 * neighbours and from telling a buyer how many animals there are; it protects nothing.
 */
const ROUNDS = 5

/** 32-bit hash of a text (FNV-1a, final avalanche of MurmurHash3). */
export function hashText(text: string): number {
  let hash = 0x811c9dc5
  for (let index = 0; index < text.length; index += 1) {
    hash = Math.imul(hash ^ text.charCodeAt(index), 0x01000193)
  }
  return mix(hash)
}

/** The image of `value` under the permutation of 0…size−1 chosen by `key`. size at most 2^30. */
export function permute(value: number, size: number, key: string): number {
  if (!Number.isInteger(value) || value < 0 || value >= size) {
    throw new RangeError(`${value} is outside 0…${size - 1}`)
  }
  const halfBits = Math.max(1, Math.ceil(Math.log2(size) / 2))
  const seed = hashText(`${key}/${size}`)
  let image = value
  do {
    image = feistel(image, halfBits, seed)
  } while (image >= size)
  return image
}

function feistel(value: number, halfBits: number, seed: number): number {
  const mask = 2 ** halfBits - 1
  let left = value >>> halfBits
  let right = value & mask
  for (let round = 0; round < ROUNDS; round += 1) {
    const turned =
      left ^ (mix(Math.imul(right + 1, 0x9e3779b1) ^ (seed + Math.imul(round + 1, 0x85ebca6b))) & mask)
    left = right
    right = turned
  }
  return left * 2 ** halfBits + right
}

function mix(word: number): number {
  let hash = word ^ (word >>> 16)
  hash = Math.imul(hash, 0x85ebca6b)
  hash ^= hash >>> 13
  hash = Math.imul(hash, 0xc2b2ae35)
  return (hash ^ (hash >>> 16)) >>> 0
}
