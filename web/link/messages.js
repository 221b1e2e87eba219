/**
 * The messages between this page and the service, as package phonemsg documents
 * them. Degrees, knots, metres, milliseconds since the epoch. Any reading may be
 * absent; absent is never zero.
 *
 * @typedef {'sailor'|'instructor'|'viewer'} Role
 * @typedef {'fixed'|'worn'} Mounting
 *
 * @typedef {object} Sample
 * @property {number} t
 * @property {number} seq
 * @property {number} [lat]
 * @property {number} [lon]
 * @property {number} [acc]
 * @property {number} [sog]
 * @property {number} [cog]
 * @property {number} [hdg]
 * @property {'true'|'mag'} [hdgRef]
 * @property {number} [heel]
 * @property {number} [pitch]
 * @property {number} [yaw]
 * @property {Mounting} [mount]
 * @property {number} [batt]
 *
 * @typedef {object} Joined
 * @property {'joined'} type
 * @property {string} session
 * @property {string} boat
 * @property {Role} role
 * @property {{level: string, limit_kn: number, length_m: number}} settings
 * @property {number} serverTime
 * @property {string} voice
 * @property {{key: string, words: string}[]} phrases
 * @property {{key: string, words: string}[]} [plans] not to sailors
 * @property {{key: string, words: string}[]} [exercises] not to sailors
 *
 * @typedef {object} Told
 * @property {string} words
 * @property {string} why
 * @property {number} t
 * @property {number} id
 *
 * @typedef {object} Health
 * @property {'ok'|'quiet'|'lost'} link
 * @property {boolean} deaf
 * @property {number} [acc]
 * @property {number} [batt]
 * @property {string} sound
 * @property {boolean} compass
 * @property {number} [windAge]
 *
 * @typedef {object} Turns
 * @property {number} tacks
 * @property {number} gybes
 * @property {number} [bestLengths]
 * @property {number} [lastLengths]
 *
 * @typedef {object} Exercise
 * @property {'exercise'} [type] alone from the page's own engine only
 * @property {number} t
 * @property {string} name
 * @property {string} phase waiting, intro, consent, trying, result, void, opened, skipped, resting or over
 * @property {string} [title]
 * @property {string} [text]
 * @property {string} [plan]
 * @property {number} [step]
 * @property {number} [steps]
 * @property {number} [tries]
 * @property {number} [good]
 *
 * @typedef {object} State
 * @property {'state'} type
 * @property {string} boat
 * @property {number} t
 * @property {string} mode
 * @property {number|null} twd
 * @property {number|null} twd_sd
 * @property {number|null} twd_lo
 * @property {number|null} twd_hi
 * @property {boolean} twd_known
 * @property {number|null} twd_other
 * @property {number|null} tws
 * @property {number|null} twa
 * @property {number|null} target_twa
 * @property {number|null} target_kn
 * @property {number|null} share
 * @property {number|null} heading
 * @property {number|null} sog
 * @property {number} [set]
 * @property {number} [drift]
 * @property {[number, number]} [at] longitude, latitude
 * @property {Told} [told]
 * @property {Health} health
 * @property {Turns} turns
 * @property {Exercise} [exercise]
 *
 * @typedef {object} Cue
 * @property {'cue'} type
 * @property {string} boat
 * @property {number} t
 * @property {number} id
 * @property {string} key
 * @property {string} words
 * @property {string} why
 * @property {'danger'|'manoeuvre'|'warning'|'steer'|'teach'|'praise'} urgency
 * @property {number} expires
 * @property {string[]} clips
 * @property {number} gapMs
 * @property {boolean} repeat
 *
 * @typedef {object} Manoeuvre from the page's own engine only
 * @property {'manoeuvre'} type
 * @property {number} t
 * @property {'tack'|'gybe'} kind
 * @property {number|null} lost_lengths
 *
 * @typedef {{type: 'input', t?: number, boat: string, input: {t: number, kind: string, settings?: object}}} Input what others told the service's engine
 * @typedef {{type: 'ack', seq: number, t?: number}} Ack t: the service's clock when it answered
 * @typedef {{type: 'note', boat: string, t: number, code: string, text: string}} Note
 * @typedef {{type: 'error', code: string, text: string}} Fault
 * @typedef {Joined|Ack|State|Cue|Note|Input|Manoeuvre|Exercise & {type: 'exercise'}|Fault} FromService
 * @typedef {{type: string, [field: string]: unknown}} ToService
 */
export {};
