/** A label that would like its left edge at `at`. All in px of the drawing. */
export type Wish = { at: number; width: number }

type Block = { members: Wish[]; start: number; width: number }

const GAP_PX = 8

/** Where the block as a whole deviates least from what its members wish for. */
function settle(block: Block, room: number): Block {
  let offset = 0
  let sum = 0
  for (const member of block.members) {
    sum += member.at - offset
    offset += member.width + GAP_PX
  }
  const start = sum / block.members.length
  return { ...block, start: Math.max(0, Math.min(start, room - block.width)) }
}

function join(left: Block, right: Block, room: number): Block {
  const members = [...left.members, ...right.members]
  return settle({ members, start: 0, width: left.width + GAP_PX + right.width }, room)
}

/**
 * Left edges for labels in one row, in their order, as near as possible to where they belong and never over
 * each other (neighbours that collide are pooled and moved together). Null when the row is too short for
 * them: then the caller has to say it in another way, not smaller.
 */
export function spreadLabels(wishes: readonly Wish[], room: number): number[] | null {
  const needed = wishes.reduce((sum, wish) => sum + wish.width, 0) + GAP_PX * Math.max(0, wishes.length - 1)
  if (needed > room) return null
  const blocks: Block[] = []
  for (const wish of wishes) {
    let block = settle({ members: [wish], start: wish.at, width: wish.width }, room)
    let before = blocks.at(-1)
    while (before && before.start + before.width + GAP_PX > block.start) {
      blocks.pop()
      block = join(before, block, room)
      before = blocks.at(-1)
    }
    blocks.push(block)
  }
  return blocks.flatMap((block) => {
    let at = block.start
    return block.members.map((member) => {
      const left = at
      at += member.width + GAP_PX
      return left
    })
  })
}
