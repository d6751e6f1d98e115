type Props = { sex: 'male' | 'female' | 'unsexed'; certainty: 'none' | 'probable' | 'certain' }

const SIGN = { male: '♂', female: '♀', unsexed: '?' } as const

/** The sign and the word; a sex that is not sure says so. */
export function SexWord({ sex, certainty }: Props) {
  const doubt = certainty === 'probable' ? ', probable' : ''
  return (
    <span className="whitespace-nowrap">
      <span aria-hidden="true">{SIGN[sex]} </span>
      {sex}
      {doubt}
    </span>
  )
}
