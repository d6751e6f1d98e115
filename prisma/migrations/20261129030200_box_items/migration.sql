-- CreateTable
CREATE TABLE "show_box_item" (
    "workspace_id" UUID NOT NULL,
    "box_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "part_number" INTEGER NOT NULL,
    "kind" "sale_line_kind" NOT NULL,
    "egg_case_id" UUID,
    "culture_id" UUID,
    "container_kind_id" UUID,
    "prey_slug" TEXT,
    "items" INTEGER,
    "description" TEXT NOT NULL,
    "price_minor" INTEGER NOT NULL,
    "packed" INTEGER NOT NULL,
    "sold" INTEGER NOT NULL DEFAULT 0,
    "home" INTEGER,
    "removed_on" DATE,

    CONSTRAINT "show_box_item_pkey" PRIMARY KEY ("workspace_id","box_id","number")
);

-- AddForeignKey
ALTER TABLE "show_box_item" ADD CONSTRAINT "show_box_item_box_fkey" FOREIGN KEY ("workspace_id", "box_id") REFERENCES "show_box"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "show_box_item" ADD CONSTRAINT "show_box_item_part_fkey" FOREIGN KEY ("workspace_id", "box_id", "part_number") REFERENCES "show_box_part"("workspace_id", "box_id", "number") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "show_box_item" ADD CONSTRAINT "show_box_item_egg_case_fkey" FOREIGN KEY ("workspace_id", "egg_case_id") REFERENCES "egg_case"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "show_box_item" ADD CONSTRAINT "show_box_item_culture_fkey" FOREIGN KEY ("workspace_id", "culture_id") REFERENCES "culture"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "show_box_item" ADD CONSTRAINT "show_box_item_container_kind_fkey" FOREIGN KEY ("workspace_id", "container_kind_id") REFERENCES "container_kind"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "show_box_item" ADD CONSTRAINT "show_box_item_prey_line_fkey" FOREIGN KEY ("workspace_id", "prey_slug") REFERENCES "prey_line"("workspace_id", "slug") ON DELETE RESTRICT ON UPDATE RESTRICT;

CALL app.close_table('show_box_item');
-- What lies in a part stays as it was put in; its counts move, and it may stay at home.
GRANT SELECT, INSERT, UPDATE (packed, sold, home, removed_on) ON show_box_item TO oothecary_app;

ALTER TABLE show_box_item
  ADD CONSTRAINT show_box_item_extent CHECK (packed >= 0 AND sold >= 0 AND home >= 0 AND price_minor >= 0),
  ADD CONSTRAINT show_box_item_subject CHECK (CASE kind
    WHEN 'egg_case' THEN egg_case_id IS NOT NULL
    WHEN 'culture' THEN culture_id IS NOT NULL
    WHEN 'container' THEN container_kind_id IS NOT NULL
    WHEN 'pack' THEN prey_slug IS NOT NULL AND coalesce(items, 0) > 0
    ELSE false END);
