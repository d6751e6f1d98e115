-- AlterTable
ALTER TABLE "culture" ADD COLUMN     "starters" INTEGER;

-- CreateTable
CREATE TABLE "culture_move" (
    "workspace_id" UUID NOT NULL,
    "culture_id" UUID NOT NULL,
    "on" DATE NOT NULL,
    "from_zone_id" UUID NOT NULL,
    "to_zone_id" UUID NOT NULL,
    "moved_by" UUID,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "culture_move_pkey" PRIMARY KEY ("workspace_id","culture_id","on")
);

-- AddForeignKey
ALTER TABLE "culture_move" ADD CONSTRAINT "culture_move_culture_fkey" FOREIGN KEY ("workspace_id", "culture_id") REFERENCES "culture"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "culture_move" ADD CONSTRAINT "culture_move_from_zone_fkey" FOREIGN KEY ("workspace_id", "from_zone_id") REFERENCES "zone"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "culture_move" ADD CONSTRAINT "culture_move_to_zone_fkey" FOREIGN KEY ("workspace_id", "to_zone_id") REFERENCES "zone"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "culture_move" ADD CONSTRAINT "culture_move_mover_fkey" FOREIGN KEY ("workspace_id", "moved_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

CALL app.close_table('culture_move');
GRANT SELECT, INSERT, UPDATE ON culture_move TO oothecary_app;

ALTER TABLE culture ADD CONSTRAINT culture_starters_range CHECK (starters BETWEEN 1 AND 5000);
