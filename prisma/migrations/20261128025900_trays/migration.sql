-- Cups of one clutch that are kept as one.

SET lock_timeout = '5s';

-- The new link is checked against the animals there are, whom the owner of the tables may not see either.
ALTER TABLE individual NO FORCE ROW LEVEL SECURITY;
ALTER TABLE clutch NO FORCE ROW LEVEL SECURITY;

-- AlterTable
ALTER TABLE "individual" ADD COLUMN     "tray_id" UUID;

-- CreateTable
CREATE TABLE "tray" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "label" TEXT NOT NULL,
    "clutch_id" UUID NOT NULL,
    "on" DATE NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "tray_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateIndex
CREATE INDEX "tray_clutch_idx" ON "tray"("workspace_id", "clutch_id");

-- CreateIndex
CREATE UNIQUE INDEX "tray_label_key" ON "tray"("workspace_id", "label");

-- CreateIndex
CREATE INDEX "individual_tray_idx" ON "individual"("workspace_id", "tray_id") WHERE (tray_id IS NOT NULL);

-- AddForeignKey
ALTER TABLE "individual" ADD CONSTRAINT "individual_tray_fkey" FOREIGN KEY ("workspace_id", "tray_id") REFERENCES "tray"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "tray" ADD CONSTRAINT "tray_clutch_fkey" FOREIGN KEY ("workspace_id", "clutch_id") REFERENCES "clutch"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;


ALTER TABLE individual FORCE ROW LEVEL SECURITY;
ALTER TABLE clutch FORCE ROW LEVEL SECURITY;

CALL app.close_table('tray');
GRANT SELECT, INSERT ON tray TO oothecary_app;
GRANT UPDATE (tray_id) ON individual TO oothecary_app;
ALTER TABLE individual ADD CONSTRAINT individual_on_tray CHECK (tray_id IS NULL OR clutch_id IS NOT NULL);
