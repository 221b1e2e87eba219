package recording

// The JSON Schemas that stand in the file, so that general tools can show the
// messages. Units and ranges are those of package boat; absent readings are
// left out or null.
const inputSchema = `{
  "$schema": "https://json-schema.org/draft/2020-12/schema",
  "title": "helmcue input", "description": "one thing the engine was told",
  "type": "object", "required": ["t", "kind"],
  "properties": {
    "t": {"type": "integer", "description": "milliseconds since the Unix epoch, UTC"},
    "sent": {"type": "integer", "description": "the sender's own clock, milliseconds"},
    "kind": {"enum": ["tick", "sample", "wind_fix", "settings", "answer", "act", "spoken", "hidden", "shown", "link_lost", "link_back", "lull"]},
    "source": {"type": "string"},
    "sample": {"type": "object", "properties": {
      "seq": {"type": "integer"},
      "lat": {"type": "number", "minimum": -90, "maximum": 90},
      "lon": {"type": "number", "minimum": -180, "maximum": 180},
      "acc": {"type": "number", "description": "metres"},
      "sog": {"type": "number", "description": "knots over the ground"},
      "cog": {"type": "number", "description": "degrees true"},
      "hdg": {"type": "number", "description": "degrees, from hdgRef"},
      "hdgRef": {"enum": ["true", "mag"]},
      "var": {"type": "number", "description": "magnetic variation, east positive"},
      "heel": {"type": "number", "description": "degrees, starboard down positive"},
      "pitch": {"type": "number", "description": "degrees, bow up positive"},
      "yaw": {"type": "number", "description": "degrees a second, clockwise positive"},
      "mount": {"enum": ["fixed", "worn"]},
      "batt": {"type": "number", "description": "share left, 0..1"},
      "stw": {"type": "number", "description": "knots through the water"},
      "awa": {"type": "number", "description": "apparent wind off the bow, starboard positive"},
      "aws": {"type": "number", "description": "knots"},
      "twa": {"type": "number", "description": "true wind off the bow, starboard positive"},
      "tws": {"type": "number", "description": "knots"},
      "twd": {"type": "number", "description": "degrees true, from"}}},
    "wind_fix": {"type": "object", "required": ["method"], "properties": {
      "dir": {"type": "number"}, "ref": {"enum": ["true", "mag"]}, "sd": {"type": "number"},
      "kn": {"type": "number"}, "method": {"type": "string"},
      "lat": {"type": "number"}, "lon": {"type": "number"}}},
    "settings": {"type": "object", "properties": {
      "boat": {"type": "string"}, "length_m": {"type": "number"}, "jib": {"type": "boolean"},
      "polar": {"type": "object"}, "level": {"enum": ["improver", "beginner", "expert"]},
      "limit_kn": {"type": "number"}, "mount": {"enum": ["fixed", "worn"]},
      "ignore_wind": {"type": "boolean"}, "delay_s": {"type": "number"}, "seed": {"type": "integer"}}},
    "answer": {"type": "object", "properties": {"knocks": {"type": "integer"}, "done": {"type": "boolean"}}},
    "act": {"type": "object", "required": ["act"], "properties": {
      "act": {"type": "string"}, "phrase": {"type": "string"}, "text": {"type": "string"}, "from": {"type": "string"}}},
    "spoken": {"type": "object", "required": ["id", "what"], "properties": {
      "id": {"type": "integer"}, "where": {"type": "string"}, "what": {"type": "string"}, "note": {"type": "string"}}},
    "lull": {"type": "object", "description": "where another boat lost way", "required": ["t", "at"], "properties": {
      "t": {"type": "integer"}, "at": {"type": "array", "description": "longitude, latitude"}}}
  }
}`

const outputSchema = `{
  "$schema": "https://json-schema.org/draft/2020-12/schema",
  "title": "helmcue output", "description": "one thing the engine said; type says which fields there are",
  "type": "object", "required": ["type", "t"],
  "properties": {
    "type": {"enum": ["state", "cue", "manoeuvre", "exercise", "note", "lull"]},
    "t": {"type": "integer", "description": "milliseconds since the Unix epoch, UTC"},
    "mode": {"type": "string"},
    "twd": {"type": ["number", "null"]}, "twd_sd": {"type": ["number", "null"]},
    "twd_lo": {"type": ["number", "null"]}, "twd_hi": {"type": ["number", "null"]},
    "twd_known": {"type": "boolean"}, "twd_other": {"type": ["number", "null"]},
    "tws": {"type": ["number", "null"]}, "tws_sd": {"type": ["number", "null"]},
    "twa": {"type": ["number", "null"]}, "target_twa": {"type": ["number", "null"]},
    "target_kn": {"type": ["number", "null"]}, "share": {"type": ["number", "null"]},
    "heading": {"type": ["number", "null"]}, "sog": {"type": ["number", "null"]},
    "set": {"type": "number"}, "drift": {"type": "number"},
    "id": {"type": "integer"}, "key": {"type": "string"}, "words": {"type": "string"},
    "amount": {"type": "number"}, "size": {"enum": ["hair", "little", "more"]},
    "side": {"enum": ["port", "starboard"]}, "ref": {"enum": ["true", "mag"]},
    "level": {"enum": ["improver", "beginner", "expert"]},
    "urgency": {"enum": ["praise", "teach", "steer", "warning", "manoeuvre", "danger"]},
    "expires": {"type": "integer"}, "conf": {"type": "number"},
    "why_code": {"type": "string"}, "why": {"type": "string"},
    "kind": {"enum": ["tack", "gybe"]},
    "start": {"type": "integer"}, "eye": {"type": "integer"}, "settled": {"type": ["integer", "null"]},
    "turn_deg": {"type": ["number", "null"]}, "overshoot_deg": {"type": ["number", "null"]},
    "entry_kn": {"type": ["number", "null"]}, "least_kn": {"type": ["number", "null"]},
    "exit_kn": {"type": ["number", "null"]}, "recovered_s": {"type": ["number", "null"]},
    "lost_m": {"type": ["number", "null"]}, "lost_lengths": {"type": ["number", "null"]}, "to": {"type": "string"},
    "name": {"type": "string"}, "phase": {"type": "string"}, "score": {"type": "object"},
    "code": {"type": "string"}, "text": {"type": "string"}
  }
}`
