/** For a query over `note n`: its newest judgement as `t`, all NULL before there is one. */
export const NEWEST_TRIAGE = `LEFT JOIN LATERAL (
    SELECT x.* FROM note_triage x WHERE x.studio_id = n.studio_id AND x.note_id = n.id ORDER BY x.seq DESC LIMIT 1) t ON true`;

/** For a query over `note n`: the note that it was put with; NULL when it stands for itself. */
export const TOLD_WITH_ID = `(SELECT x.into_id FROM note_merge x WHERE x.studio_id = n.studio_id AND x.note_id = n.id ORDER BY x.seq DESC LIMIT 1)`;
