-- CreateTable
CREATE TABLE "order_stock_line" (
    "workspace_id" UUID NOT NULL,
    "order_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "kind" "sale_line_kind" NOT NULL,
    "egg_case_id" UUID,
    "culture_id" UUID,
    "container_kind_id" UUID,
    "prey_slug" TEXT,
    "quantity" INTEGER NOT NULL,
    "items" INTEGER,
    "description" TEXT NOT NULL,
    "price_minor" INTEGER NOT NULL,
    "removed_on" DATE,

    CONSTRAINT "order_stock_line_pkey" PRIMARY KEY ("workspace_id","order_id","number")
);

-- CreateTable
CREATE TABLE "order_payment" (
    "workspace_id" UUID NOT NULL,
    "order_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "kind" "payment_kind" NOT NULL,
    "on" DATE NOT NULL,
    "amount_minor" INTEGER NOT NULL,
    "returned_minor" INTEGER NOT NULL DEFAULT 0,
    "reverses" INTEGER,
    "waived" BOOLEAN NOT NULL DEFAULT false,
    "note" TEXT NOT NULL DEFAULT '',
    "taken_by" UUID,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "order_payment_pkey" PRIMARY KEY ("workspace_id","order_id","number")
);

-- CreateIndex
CREATE UNIQUE INDEX "order_stock_line_egg_case_once" ON "order_stock_line"("workspace_id", "egg_case_id") WHERE (removed_on IS NULL);

-- CreateIndex
CREATE UNIQUE INDEX "order_stock_line_culture_once" ON "order_stock_line"("workspace_id", "culture_id") WHERE (removed_on IS NULL);

-- AddForeignKey
ALTER TABLE "order_stock_line" ADD CONSTRAINT "order_stock_line_order_fkey" FOREIGN KEY ("workspace_id", "order_id") REFERENCES "customer_order"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "order_stock_line" ADD CONSTRAINT "order_stock_line_egg_case_fkey" FOREIGN KEY ("workspace_id", "egg_case_id") REFERENCES "egg_case"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "order_stock_line" ADD CONSTRAINT "order_stock_line_culture_fkey" FOREIGN KEY ("workspace_id", "culture_id") REFERENCES "culture"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "order_stock_line" ADD CONSTRAINT "order_stock_line_container_kind_fkey" FOREIGN KEY ("workspace_id", "container_kind_id") REFERENCES "container_kind"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "order_stock_line" ADD CONSTRAINT "order_stock_line_prey_line_fkey" FOREIGN KEY ("workspace_id", "prey_slug") REFERENCES "prey_line"("workspace_id", "slug") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "order_payment" ADD CONSTRAINT "order_payment_order_fkey" FOREIGN KEY ("workspace_id", "order_id") REFERENCES "customer_order"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "order_payment" ADD CONSTRAINT "order_payment_taker_fkey" FOREIGN KEY ("workspace_id", "taken_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "order_payment" ADD CONSTRAINT "order_payment_reversed_fkey" FOREIGN KEY ("workspace_id", "order_id", "reverses") REFERENCES "order_payment"("workspace_id", "order_id", "number") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- Orders that were said to be paid were paid whole, in a way that nobody said.
ALTER TABLE customer_order NO FORCE ROW LEVEL SECURITY;
ALTER TABLE order_line NO FORCE ROW LEVEL SECURITY;
ALTER TABLE sale NO FORCE ROW LEVEL SECURITY;
ALTER TABLE order_payment NO FORCE ROW LEVEL SECURITY;
ALTER TABLE audit_entry NO FORCE ROW LEVEL SECURITY;
INSERT INTO order_payment (workspace_id, order_id, number, kind, "on", amount_minor, taken_by)
  SELECT o.workspace_id, o.id, 1, 'other', o.paid_on, due.minor, o.taken_by
  FROM customer_order o
  LEFT JOIN sale s ON s.workspace_id = o.workspace_id AND s.id = o.sale_id
  CROSS JOIN LATERAL (
    SELECT coalesce(s.total_minor, sum(l.count::bigint * l.price_minor)::int, 0) AS minor FROM order_line l
    WHERE l.workspace_id = o.workspace_id AND l.order_id = o.id) due
  WHERE o.paid_on IS NOT NULL AND due.minor > 0;
ALTER TABLE customer_order FORCE ROW LEVEL SECURITY;
ALTER TABLE order_line FORCE ROW LEVEL SECURITY;
ALTER TABLE sale FORCE ROW LEVEL SECURITY;
ALTER TABLE order_payment FORCE ROW LEVEL SECURITY;
ALTER TABLE audit_entry FORCE ROW LEVEL SECURITY;

CALL app.close_table('order_stock_line');
CALL app.close_table('order_payment');
-- What was agreed of a line stays as it was; it is taken off, never changed. What was paid is written down for good.
GRANT SELECT, INSERT, UPDATE (removed_on) ON order_stock_line TO oothecary_app;
GRANT SELECT, INSERT ON order_payment TO oothecary_app;

-- So much of a payment went back as its reversals say. Its row stays locked until the reversal is committed, so that no
-- money goes back twice, whoever asks at once.
CREATE FUNCTION app.return_payment() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
SET search_path = pg_catalog, public AS $$
BEGIN
  UPDATE public.order_payment SET returned_minor = returned_minor + NEW.amount_minor
    WHERE workspace_id = NEW.workspace_id AND order_id = NEW.order_id AND number = NEW.reverses;
  RETURN NULL;
END $$;
CREATE TRIGGER return_payment AFTER INSERT ON order_payment FOR EACH ROW
  WHEN (NEW.reverses IS NOT NULL) EXECUTE FUNCTION app.return_payment();

ALTER TABLE order_stock_line
  ADD CONSTRAINT order_stock_line_extent CHECK (quantity BETWEEN 1 AND 10000 AND price_minor >= 0),
  ADD CONSTRAINT order_stock_line_subject CHECK (CASE kind
    WHEN 'egg_case' THEN egg_case_id IS NOT NULL AND quantity = 1
    WHEN 'culture' THEN culture_id IS NOT NULL AND quantity = 1
    WHEN 'container' THEN container_kind_id IS NOT NULL
    WHEN 'pack' THEN prey_slug IS NOT NULL AND coalesce(items, 0) > 0
    WHEN 'other' THEN true
    ELSE false END);
ALTER TABLE order_payment
  ADD CONSTRAINT order_payment_amount CHECK (amount_minor > 0),
  ADD CONSTRAINT order_payment_returned CHECK
    (returned_minor BETWEEN 0 AND amount_minor AND (reverses IS NULL OR returned_minor = 0)),
  ADD CONSTRAINT order_payment_reversal CHECK
    (CASE WHEN reverses IS NULL THEN NOT waived ELSE reverses < number END);
