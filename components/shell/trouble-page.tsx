import { Button } from '../ui/button'

type Props = { reference: string | undefined; onRetry: () => void }

/** A page that could not be shown. The reference is all that is said of the cause. */
export function TroublePage({ reference, onRetry }: Props) {
  return (
    <section className="max-w-xl">
      <h1>This page could not be shown</h1>
      <p className="mt-2 text-soft">
        What was recorded before is safe. If it stays so, tell whoever runs the service
        {reference ? (
          <>
            {' '}
            this reference: <strong className="text-ink">{reference}</strong>.
          </>
        ) : (
          ' when it happened.'
        )}
      </p>
      <div className="mt-6">
        <Button kind="filled" onClick={onRetry}>
          Try again
        </Button>
      </div>
    </section>
  )
}
