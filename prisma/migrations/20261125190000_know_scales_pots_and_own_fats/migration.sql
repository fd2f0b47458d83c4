-- AlterTable
ALTER TABLE "class_station" ADD COLUMN     "accuracy_class" TEXT,
ADD COLUMN     "lye_scale_capacity_mg" BIGINT,
ADD COLUMN     "lye_scale_step_mg" BIGINT,
ADD COLUMN     "pot_material" TEXT,
ADD COLUMN     "pot_volume_ml" INTEGER,
ADD COLUMN     "verification_interval_mg" BIGINT;

-- AlterTable
ALTER TABLE "lot" ADD COLUMN     "assay_is" TEXT NOT NULL DEFAULT 'hydroxide',
ADD COLUMN     "carbonate_percent" DECIMAL(5,2),
ADD COLUMN     "water_percent" DECIMAL(5,2);

-- AlterTable
ALTER TABLE "station" ADD COLUMN     "accuracy_class" TEXT,
ADD COLUMN     "lye_scale_capacity_mg" BIGINT,
ADD COLUMN     "lye_scale_step_mg" BIGINT,
ADD COLUMN     "pot_material" TEXT,
ADD COLUMN     "pot_volume_ml" INTEGER,
ADD COLUMN     "verification_interval_mg" BIGINT;

-- CreateTable
CREATE TABLE "check_weighing" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "station_id" UUID NOT NULL,
    "scale" TEXT NOT NULL,
    "known_mg" BIGINT NOT NULL,
    "known_limit_mg" BIGINT NOT NULL,
    "shown_mg" BIGINT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "by" UUID NOT NULL,

    CONSTRAINT "check_weighing_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "studio_fat" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "botanical_name" TEXT NOT NULL,
    "sv_low" DECIMAL(6,2) NOT NULL,
    "sv_high" DECIMAL(6,2) NOT NULL,
    "iodine_low" DECIMAL(6,2),
    "iodine_high" DECIMAL(6,2),
    "density_g_per_ml" DECIMAL(5,4),
    "unsaponifiable_percent" DECIMAL(5,2),
    "source" TEXT NOT NULL,
    "added_at" TIMESTAMPTZ(3) NOT NULL,
    "added_by" UUID NOT NULL,
    "retired_at" TIMESTAMPTZ(3),

    CONSTRAINT "studio_fat_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "card_change" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "card_id" UUID NOT NULL,
    "step_no" INTEGER NOT NULL,
    "act" TEXT NOT NULL,
    "words" TEXT NOT NULL,
    "content" JSONB NOT NULL,
    "account_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "seq" BIGSERIAL NOT NULL,

    CONSTRAINT "card_change_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateIndex
CREATE INDEX "check_weighing_station_idx" ON "check_weighing"("studio_id", "station_id");

-- CreateIndex
CREATE UNIQUE INDEX "studio_fat_name_key" ON "studio_fat"("studio_id", "name");

-- CreateIndex
CREATE INDEX "card_change_card_idx" ON "card_change"("studio_id", "card_id");

-- AddForeignKey
ALTER TABLE "check_weighing" ADD CONSTRAINT "check_weighing_studio_id_station_id_fkey" FOREIGN KEY ("studio_id", "station_id") REFERENCES "station"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "check_weighing" ADD CONSTRAINT "check_weighing_studio_id_by_fkey" FOREIGN KEY ("studio_id", "by") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "studio_fat" ADD CONSTRAINT "studio_fat_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "studio_fat" ADD CONSTRAINT "studio_fat_studio_id_added_by_fkey" FOREIGN KEY ("studio_id", "added_by") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "card_change" ADD CONSTRAINT "card_change_studio_id_card_id_fkey" FOREIGN KEY ("studio_id", "card_id") REFERENCES "weigh_card"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "card_change" ADD CONSTRAINT "card_change_studio_id_account_id_fkey" FOREIGN KEY ("studio_id", "account_id") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What Prisma's schema cannot say.
DO $$
DECLARE new_table text;
BEGIN
  FOREACH new_table IN ARRAY ARRAY['check_weighing', 'studio_fat', 'card_change'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', new_table);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', new_table);
    EXECUTE format('CREATE POLICY own_studio ON %I USING (studio_id = current_studio()) WITH CHECK (studio_id = current_studio())', new_table);
    EXECUTE format('GRANT SELECT, INSERT ON %I TO ashwater_app', new_table);
    EXECUTE format('GRANT SELECT ON %I TO ashwater_readonly, ashwater_backup', new_table);
    EXECUTE format('CREATE POLICY backup ON %I FOR SELECT TO ashwater_backup USING (true)', new_table);
  END LOOP;
  FOREACH new_table IN ARRAY ARRAY['check_weighing', 'card_change'] LOOP
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION refuse_change()', new_table);
    EXECUTE format('CREATE TRIGGER append_only_whole BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', new_table);
  END LOOP;
END $$;
GRANT UPDATE ON studio_fat TO ashwater_app;
GRANT USAGE ON ALL SEQUENCES IN SCHEMA public TO ashwater_app;

ALTER TABLE check_weighing ADD CONSTRAINT check_weighing_check CHECK (scale IN ('main', 'lye') AND known_mg > 0 AND known_limit_mg >= 0 AND shown_mg > 0);
ALTER TABLE card_change ADD CONSTRAINT card_change_act_check CHECK (act IN ('go on', 'new target', 'add', 'take out', 'discard'));
ALTER TABLE studio_fat ADD CONSTRAINT studio_fat_figures_check CHECK (
  sv_low > 0 AND sv_high >= sv_low AND (iodine_low IS NULL) = (iodine_high IS NULL) AND coalesce(iodine_high >= iodine_low, true)
  AND coalesce(density_g_per_ml > 0, true) AND coalesce(unsaponifiable_percent BETWEEN 0 AND 100, true));
ALTER TABLE lot ADD CONSTRAINT lot_assay_check CHECK (
  assay_is IN ('hydroxide', 'total alkali') AND coalesce(carbonate_percent BETWEEN 0 AND 50, true) AND coalesce(water_percent BETWEEN 0 AND 50, true));
DO $$
DECLARE benches text;
BEGIN
  FOREACH benches IN ARRAY ARRAY['station', 'class_station'] LOOP
    EXECUTE format('ALTER TABLE %I ADD CONSTRAINT %I CHECK (
      coalesce(accuracy_class IN (''I'', ''II'', ''III'', ''IIII'', ''HB 44 III''), true) AND coalesce(verification_interval_mg > 0, true)
      AND (lye_scale_step_mg IS NULL) = (lye_scale_capacity_mg IS NULL) AND coalesce(lye_scale_step_mg > 0 AND lye_scale_capacity_mg > lye_scale_step_mg, true)
      AND coalesce(pot_volume_ml > 0, true))', benches, benches || '_scales_and_pot_check');
  END LOOP;
END $$;
