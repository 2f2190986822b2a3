/**
 * The JSON Schema (2020-12) of the shot sidecar, version 1. The same text stands in docs/formats/shot-sidecar.schema.json.
 * Fields it does not name are allowed, kept and written back.
 */
export const SIDECAR_SCHEMA = {
  $schema: "https://json-schema.org/draft/2020-12/schema",
  $id: "urn:underfoot:shot-sidecar:1",
  title: "Underfoot shot sidecar",
  type: "object",
  required: ["underfoot", "version", "handed", "target", "plates"],
  properties: {
    underfoot: { const: "shot" },
    version: { const: 1 },
    recording: {
      type: "object",
      required: ["file"],
      properties: { file: { type: "string" }, sha256: { type: "string", pattern: "^[0-9a-f]{64}$" } },
    },
    player: { type: "string", description: "pseudonym, never a name" },
    handed: { enum: ["right", "left"] },
    target: {
      $ref: "#/$defs/vec3",
      description:
        "direction of the target in the lab frame, any length > 0; its part along the plate normal is dropped",
    },
    up: {
      $ref: "#/$defs/vec3",
      description:
        "against gravity in the lab frame, if the lab frame is level; left out: from pitch and roll and the plates",
    },
    slope: {
      type: "object",
      required: ["pitch", "roll"],
      properties: {
        pitch: { type: "number", minimum: -30, maximum: 30, description: "degrees, + rises toward the target" },
        roll: { type: "number", minimum: -30, maximum: 30, description: "degrees, + rises toward the ball" },
        source: { enum: ["inclinometer", "stance", "assumed"] },
        sd: { type: "number", exclusiveMinimum: 0, description: "degrees; left out: 0.2" },
      },
    },
    plates: {
      type: "array",
      minItems: 1,
      maxItems: 4,
      items: {
        type: "object",
        required: ["plate", "foot"],
        properties: {
          plate: { type: "integer", minimum: 1, description: "number in the recording" },
          foot: { enum: ["lead", "trail", "both", "none"] },
          sense: { enum: ["on-player", "on-plate"] },
          originSign: { enum: ["as-written", "turned"] },
          type: { type: "integer" },
          zero: {
            oneOf: [
              { const: "none" },
              {
                type: "array",
                items: { type: "number" },
                minItems: 2,
                maxItems: 2,
                description: "seconds from the first sample",
              },
            ],
          },
          clock: {
            type: "object",
            properties: { offset: { type: "number" }, drift: { type: "number" }, sd: { type: "number" } },
            description: "s, s per s: lead-plate time = offset + (1 + drift) x this plate's time; each 0 if left out",
          },
        },
      },
    },
    feet: {
      type: "array",
      items: {
        type: "object",
        required: ["foot", "outline"],
        properties: {
          foot: { enum: ["lead", "trail"] },
          frame: { enum: ["lab", "plate"], default: "lab" },
          outline: {
            type: "array",
            minItems: 3,
            items: { $ref: "#/$defs/point" },
            description: "m, closed by itself",
          },
          heel: { $ref: "#/$defs/point" },
          toe: { $ref: "#/$defs/point" },
        },
      },
    },
    ball: { $ref: "#/$defs/point", description: "m, lab frame" },
    mass: {
      type: "object",
      required: ["kg"],
      properties: {
        kg: { type: "number", minimum: 20, maximum: 250 },
        source: { enum: ["scale", "plates", "said"] },
        withClub: { type: "boolean" },
        sd: { type: "number", description: "kg" },
      },
    },
    pad: {
      type: "number",
      minimum: 0,
      maximum: 0.5,
      description: "m, thickness of turf or mat lying on the plates",
    },
    latitude: { type: "number", minimum: -90, maximum: 90, description: "degrees, for local gravity" },
    height: { type: "number", minimum: -500, maximum: 9000, description: "m above sea level, for local gravity" },
    events: {
      type: "array",
      items: {
        type: "object",
        required: ["event", "t", "source"],
        properties: {
          event: { enum: ["address", "start", "top", "delivery", "impact", "finish"] },
          t: { type: "number", description: "s from the first sample; address: end of the quiet window" },
          from: { type: "number", description: "s from the first sample; address: beginning of the quiet window" },
          source: { enum: ["marked", "signal", "estimated"] },
          sd: { type: "number", exclusiveMinimum: 0, description: "ms" },
        },
      },
    },
    intent: { type: "string" },
    lie: { type: "string" },
    club: { type: "string" },
    result: {
      type: "object",
      properties: {
        strike: {
          type: "array",
          items: { type: "number" },
          minItems: 2,
          maxItems: 2,
          description: "mm from face centre: + toward the toe, + up",
        },
        contact: { enum: ["clean", "fat", "thin", "shank", "top", "miss"] },
        startLine: { type: "number", description: "degrees, + right of target" },
        carry: { type: "number", description: "m" },
        launch: { type: "number", description: "degrees above the horizontal" },
        good: { type: ["boolean", "null"] },
      },
    },
    keep: { enum: ["kept", "set-aside"], default: "kept" },
    video: { type: "array", items: { $ref: "#/$defs/video" } },
    note: { type: "string" },
  },
  $defs: {
    vec3: { type: "array", items: { type: "number" }, minItems: 3, maxItems: 3 },
    point: {
      type: "array",
      items: { type: "number" },
      minItems: 2,
      maxItems: 3,
      description: "m; the third number is 0 if left out",
    },
    video: {
      type: "object",
      required: ["file", "anchors"],
      properties: {
        file: { type: "string" },
        sha256: { type: "string" },
        view: { enum: ["face-on", "down-the-line", "other"] },
        timeScale: { type: "number", exclusiveMinimum: 0 },
        anchors: {
          type: "array",
          minItems: 1,
          items: {
            type: "object",
            required: ["video", "plate", "by"],
            properties: {
              video: { type: "number" },
              plate: { type: "number" },
              by: { enum: ["sound", "light", "clap", "signal", "manual"] },
              sd: { type: "number", description: "ms" },
            },
          },
        },
      },
    },
  },
} as const;
