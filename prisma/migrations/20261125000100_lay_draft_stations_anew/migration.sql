-- Changing a draft class lays its stations anew. Only a draft's stations may go: those of a published class have cards and seats.
GRANT DELETE ON class_station TO ashwater_app;
CREATE POLICY drafts_only ON class_station AS RESTRICTIVE FOR DELETE USING (
  EXISTS (SELECT FROM class c WHERE c.studio_id = class_station.studio_id AND c.id = class_station.class_id AND c.status = 'draft'));
