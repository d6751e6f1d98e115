-- AlterTable
ALTER TABLE "public_link" ADD COLUMN     "for_sale" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "says_counts" BOOLEAN NOT NULL DEFAULT false;

-- CreateIndex
CREATE UNIQUE INDEX "public_link_for_sale_key" ON "public_link"("workspace_id") WHERE (for_sale);

-- A page is about one thing, or the list of what is for sale.
ALTER TABLE public_link
  DROP CONSTRAINT public_link_subject,
  ADD CONSTRAINT public_link_subject CHECK (num_nonnulls(individual_id, egg_case_id, lot_id) + for_sale::int = 1
    AND (for_sale OR NOT says_counts));
