-- AlterTable
ALTER TABLE "class" ADD COLUMN     "cancelled_reason" TEXT,
ADD COLUMN     "spare_percent" INTEGER NOT NULL DEFAULT 10;

-- AlterTable
ALTER TABLE "class_station" ADD COLUMN     "recipe_version_id" UUID;

-- AlterTable
ALTER TABLE "reading" ADD COLUMN     "source" TEXT NOT NULL DEFAULT 'station';

-- AlterTable
ALTER TABLE "seat" ADD COLUMN     "kind" TEXT NOT NULL DEFAULT 'student';

-- CreateTable
CREATE TABLE "reading_check" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "reading_id" UUID NOT NULL,
    "by_name" TEXT NOT NULL,
    "seat_id" UUID,
    "account_id" UUID,
    "entered" TEXT NOT NULL,
    "mass_mg" BIGINT NOT NULL,
    "agrees" BOOLEAN NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "reading_check_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "class_check" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "class_id" UUID NOT NULL,
    "item_key" TEXT NOT NULL,
    "sound" BOOLEAN NOT NULL,
    "remark" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "by" UUID NOT NULL,
    "seq" BIGSERIAL NOT NULL,

    CONSTRAINT "class_check_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "class_message" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "class_id" UUID NOT NULL,
    "text" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "by" UUID NOT NULL,
    "seq" BIGSERIAL NOT NULL,

    CONSTRAINT "class_message_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "bench_device" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "station_id" UUID NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "bound_at" TIMESTAMPTZ(3) NOT NULL,
    "bound_by" UUID NOT NULL,
    "released_at" TIMESTAMPTZ(3),

    CONSTRAINT "bench_device_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateIndex
CREATE INDEX "reading_check_reading_idx" ON "reading_check"("studio_id", "reading_id");

-- CreateIndex
CREATE INDEX "class_check_class_idx" ON "class_check"("studio_id", "class_id");

-- CreateIndex
CREATE INDEX "class_message_class_idx" ON "class_message"("studio_id", "class_id");

-- CreateIndex
CREATE UNIQUE INDEX "bench_device_token_key" ON "bench_device"("studio_id", "token_hash");

-- AddForeignKey
ALTER TABLE "class_station" ADD CONSTRAINT "class_station_studio_id_recipe_version_id_fkey" FOREIGN KEY ("studio_id", "recipe_version_id") REFERENCES "recipe_version"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "reading_check" ADD CONSTRAINT "reading_check_studio_id_reading_id_fkey" FOREIGN KEY ("studio_id", "reading_id") REFERENCES "reading"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "reading_check" ADD CONSTRAINT "reading_check_studio_id_seat_id_fkey" FOREIGN KEY ("studio_id", "seat_id") REFERENCES "seat"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "reading_check" ADD CONSTRAINT "reading_check_studio_id_account_id_fkey" FOREIGN KEY ("studio_id", "account_id") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "class_check" ADD CONSTRAINT "class_check_studio_id_class_id_fkey" FOREIGN KEY ("studio_id", "class_id") REFERENCES "class"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "class_check" ADD CONSTRAINT "class_check_studio_id_by_fkey" FOREIGN KEY ("studio_id", "by") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "class_message" ADD CONSTRAINT "class_message_studio_id_class_id_fkey" FOREIGN KEY ("studio_id", "class_id") REFERENCES "class"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "class_message" ADD CONSTRAINT "class_message_studio_id_by_fkey" FOREIGN KEY ("studio_id", "by") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "bench_device" ADD CONSTRAINT "bench_device_studio_id_station_id_fkey" FOREIGN KEY ("studio_id", "station_id") REFERENCES "station"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "bench_device" ADD CONSTRAINT "bench_device_studio_id_bound_by_fkey" FOREIGN KEY ("studio_id", "bound_by") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What Prisma's schema cannot say.
DO $$
DECLARE new_table text;
BEGIN
  FOREACH new_table IN ARRAY ARRAY['reading_check', 'class_check', 'class_message', 'bench_device'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', new_table);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', new_table);
    EXECUTE format('CREATE POLICY own_studio ON %I USING (studio_id = current_studio()) WITH CHECK (studio_id = current_studio())', new_table);
    EXECUTE format('GRANT SELECT, INSERT ON %I TO ashwater_app', new_table);
    EXECUTE format('GRANT SELECT ON %I TO ashwater_readonly, ashwater_backup', new_table);
    EXECUTE format('CREATE POLICY backup ON %I FOR SELECT TO ashwater_backup USING (true)', new_table);
  END LOOP;
  FOREACH new_table IN ARRAY ARRAY['reading_check', 'class_check', 'class_message'] LOOP
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION refuse_change()', new_table);
    EXECUTE format('CREATE TRIGGER append_only_whole BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', new_table);
  END LOOP;
END $$;
GRANT UPDATE ON bench_device TO ashwater_app;
GRANT USAGE ON ALL SEQUENCES IN SCHEMA public TO ashwater_app;

ALTER TABLE reading_check ADD CONSTRAINT reading_check_by_check CHECK (num_nonnulls(seat_id, account_id) = 1 AND mass_mg >= 0);
ALTER TABLE reading ADD CONSTRAINT reading_source_check CHECK (source IN ('station', 'offline', 'paper'));
ALTER TABLE seat ADD CONSTRAINT seat_kind_check CHECK (kind IN ('student', 'visitor', 'helper'));
ALTER TABLE class ADD CONSTRAINT class_spare_check CHECK (spare_percent BETWEEN 0 AND 100);
ALTER TABLE class ADD CONSTRAINT class_cancelled_check CHECK (cancelled_reason IS NULL OR status = 'cancelled');
