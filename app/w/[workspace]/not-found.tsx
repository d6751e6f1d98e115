/** The same for what never was and for what belongs to someone else. */
export default function NotFoundHere() {
  return (
    <section className="max-w-xl">
      <h1>There is nothing at this address</h1>
      <p className="mt-2 text-soft">It may have been archived, or it belongs to another workspace.</p>
    </section>
  )
}
