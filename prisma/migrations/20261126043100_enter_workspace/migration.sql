-- The start of every transaction in one round trip: the workspace is set for the policies, then its row is read under
-- them. Two statements, in plpgsql, because in one the row could be read before the setting is there. Without a workspace the second one raises.
CREATE FUNCTION app.enter_workspace(entered text, person text, token text) RETURNS SETOF public.workspace
LANGUAGE plpgsql VOLATILE SET search_path = pg_catalog AS $$
BEGIN
  PERFORM set_config('app.workspace_id', entered, true), set_config('app.person_id', person, true),
    set_config('app.api_token_id', token, true);
  RETURN QUERY SELECT w.* FROM public.workspace w WHERE w.workspace_id = app.workspace();
END $$;
GRANT EXECUTE ON FUNCTION app.enter_workspace(text, text, text) TO oothecary_app;
