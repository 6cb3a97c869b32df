// Writes the surveys and lines of testdata as GeoParquet into testdata/parquet, with two
// writers that are independent of each other and of our reader: the Rust one of Apache Arrow
// (parquet-wasm) and one in JavaScript (hyparquet-writer).
//
// Needs node, and ogr2ogr and projinfo (Debian packages gdal-bin, proj-bin). Run
// from the module root; the packages go to a folder outside it:
//
//   npm install --prefix DIR parquet-wasm@0.8.0 apache-arrow@21.2.0 hyparquet@1.33.0 hyparquet-writer@0.17.0
//   node scripts/oracle_parquet.mjs DIR
import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { pathToFileURL } from 'node:url'
import { gzipSync } from 'node:zlib'

const modules = resolve(process.argv[2], 'node_modules')
const require = createRequire(join(modules, 'x.js'))
const arrow = require('apache-arrow')
const rust = require('parquet-wasm')
const script = await import(pathToFileURL(join(modules, 'hyparquet-writer/src/index.js')))
const out = 'testdata/parquet/'
const feet = 'EPSG:2229'

const features = (file) => JSON.parse(readFileSync(file)).features

// inFeet returns the features as GDAL converts them.
function inFeet (file) {
  const to = join(mkdtempSync(join(tmpdir(), 'parquet-')), 'feet.geojson')
  execFileSync('ogr2ogr', ['-f', 'GeoJSON', '-lco', 'COORDINATE_PRECISION=6', '-lco', 'RFC7946=NO', '-t_srs', feet, to, file])
  return features(to)
}

// wkb encodes a point or multi geometry as little-endian well-known binary.
function wkb (g) {
  const parts = []
  const word = (v) => { const b = Buffer.alloc(4); b.writeUInt32LE(v); parts.push(b) }
  const place = (p) => { const b = Buffer.alloc(16); b.writeDoubleLE(p[0], 0); b.writeDoubleLE(p[1], 8); parts.push(b) }
  const head = (kind) => { parts.push(Buffer.from([1])); word(kind) }
  const run = (points) => { word(points.length); points.forEach(place) }
  const kinds = {
    Point: (c) => { head(1); place(c) },
    MultiLineString: (c) => { head(5); word(c.length); c.forEach((line) => { head(2); run(line) }) },
    MultiPolygon: (c) => { head(6); word(c.length); c.forEach((rings) => { head(3); word(rings.length); rings.forEach(run) }) }
  }
  kinds[g.type](g.coordinates)
  return new Uint8Array(Buffer.concat(parts))
}

function geo (encoding, more) {
  return JSON.stringify({ version: '1.1.0', primary_column: 'geometry', columns: { geometry: { encoding, geometry_types: [], ...more } } })
}

// fromRust writes a table with the Rust writer.
function fromRust (name, columns, meta, set = (b) => b) {
  const table = new arrow.Table(columns)
  let builder = new rust.WriterPropertiesBuilder().setCreatedBy('parquet-wasm 0.8.0')
  if (meta) builder = builder.setKeyValueMetadata(new Map([['geo', meta]]))
  const bytes = rust.writeParquet(rust.Table.fromIPCStream(arrow.tableToIPC(table, 'stream')), set(builder).build())
  writeFileSync(out + name, bytes)
}

const column = (list, key, type) => arrow.vectorFromArray(list.map((f) => f.properties[key] ?? null), type)
const text = new arrow.Utf8()

function surveyColumns (list) {
  return {
    occurrenceID: column(list, 'occurrenceID', text),
    eventDate: arrow.vectorFromArray(list.map((f) => new Date(f.properties.eventDate)), new arrow.DateDay()),
    management_status: column(list, 'management_status', text),
    patch_area_m2: column(list, 'patch_area_m2', new arrow.Float64()),
    canopy_cover_percent: column(list, 'canopy_cover_percent', new arrow.Int32()),
    recordedBy: column(list, 'recordedBy', text),
    parcel: column(list, 'parcel', text)
  }
}

const shapes = (list) => arrow.vectorFromArray(list.map((f) => wkb(f.geometry)), new arrow.Binary())
const place = new arrow.Struct([new arrow.Field('x', new arrow.Float64(), false), new arrow.Field('y', new arrow.Float64(), false)])
const listOf = (type) => new arrow.List(new arrow.Field('item', type, false))
const places = (c) => typeof c[0] === 'number' ? { x: c[0], y: c[1] } : c.map(places)

const points = features('testdata/intake/points.geojson')
const converted = inFeet('testdata/intake/points.geojson')
const lines = features(out + 'lines.geojson')
const patches = features(out + 'patches.geojson')
const { Compression, Encoding, WriterVersion } = rust

// feet of a State Plane zone, one page for each column, dictionaries
fromRust('feet.parquet', { ...surveyColumns(converted), geometry: shapes(converted) },
  geo('WKB', { crs: JSON.parse(execFileSync('projinfo', ['-q', '-o', 'PROJJSON', feet])) }), (b) => b.setCompression(Compression.SNAPPY))
// version 2 pages, several row groups, a bounding box for each geometry
const box = new arrow.Struct(['xmin', 'ymin', 'xmax', 'ymax'].map((n) => new arrow.Field(n, new arrow.Float64(), false)))
fromRust('groups.parquet', {
  ...surveyColumns(points),
  geometry: shapes(points),
  bbox: arrow.vectorFromArray(points.map(({ geometry: { coordinates: [x, y] } }) => ({ xmin: x, ymin: y, xmax: x, ymax: y })), box)
}, geo('WKB', { covering: { bbox: Object.fromEntries(['xmin', 'ymin', 'xmax', 'ymax'].map((n) => [n, ['bbox', n]])) } }),
(b) => b.setCompression(Compression.ZSTD).setWriterVersion(WriterVersion.V2).setMaxRowGroupSize(7).setDataPageSizeLimit(64).setWriteBatchSize(3))
// delta encoding instead of dictionaries
const delta = { occurrenceID: Encoding.DELTA_BYTE_ARRAY, management_status: Encoding.DELTA_LENGTH_BYTE_ARRAY, canopy_cover_percent: Encoding.DELTA_BINARY_PACKED, eventDate: Encoding.DELTA_BINARY_PACKED, patch_area_m2: Encoding.BYTE_STREAM_SPLIT, parcel: Encoding.DELTA_BYTE_ARRAY }
fromRust('differences.parquet', { ...surveyColumns(points), geometry: shapes(points) }, geo('WKB', {}),
  (b) => Object.entries(delta).reduce((b, [name, e]) => b.setColumnEncoding(name, e), b.setDictionaryEnabled(false).setCompression(Compression.GZIP)))
// geometries as lists of numbers
const native = (list, type) => arrow.vectorFromArray(list.map((f) => places(f.geometry.coordinates)), type)
fromRust('native.parquet', { ...surveyColumns(points), geometry: native(points, place) }, geo('point', {}), (b) => b.setCompression(Compression.UNCOMPRESSED))
fromRust('native_lines.parquet', {
  stream_id: column(lines, 'stream_id', text), waterBody: column(lines, 'waterBody', text), stream_order: column(lines, 'stream_order', new arrow.Int8()),
  bankfull_width_m: column(lines, 'bankfull_width_m', new arrow.Float32()), from_node: column(lines, 'from_node', text), to_node: column(lines, 'to_node', text),
  geometry: native(lines, listOf(listOf(place)))
}, geo('multilinestring', {}))
fromRust('native_patches.parquet', { occurrenceID: column(patches, 'occurrenceID', text), eventDate: column(patches, 'eventDate', text), geometry: native(patches, listOf(listOf(listOf(place)))) },
  geo('multipolygon', {}))
fromRust('brotli.parquet', { occurrenceID: column(patches, 'occurrenceID', text), geometry: shapes(patches) }, geo('WKB', {}), (b) => b.setCompression(Compression.BROTLI))
// values of every type, each with its text in the column beside it
const stamps = ['2026-07-01T12:34:56.789Z', '1969-12-31T23:59:59.001Z', null]
const moments = stamps.map((s) => s && new Date(s))
fromRust('types.parquet', {
  flag: arrow.vectorFromArray([true, false, null], new arrow.Bool()),
  small: arrow.vectorFromArray([-128, 127, null], new arrow.Int8()),
  unsigned: arrow.vectorFromArray([4294967295, 0, null], new arrow.Uint32()),
  long: arrow.vectorFromArray([9007199254740993n, -9223372036854775808n, null], new arrow.Int64()),
  vast: arrow.vectorFromArray([18446744073709551615n, 1n, null], new arrow.Uint64()),
  single: arrow.vectorFromArray([0.1, -1e-7, null], new arrow.Float32()),
  moment: arrow.vectorFromArray(moments, new arrow.TimestampMillisecond('UTC')),
  wall: arrow.vectorFromArray(moments, new arrow.TimestampMicrosecond()),
  day: arrow.vectorFromArray(moments, new arrow.DateDay()),
  tags: arrow.vectorFromArray([['a', 'b'], [], null], new arrow.List(new arrow.Field('item', text, true))),
  place: arrow.vectorFromArray([{ x: 1, y: 2 }, { x: 3, y: 4 }, { x: 5, y: 6 }], place)
}, null)

// the second writer: its own encodings, and Parquet's own geometry type
const data = (key) => points.map((f) => f.properties[key])
writeFileSync(out + 'script.parquet', Buffer.from(script.parquetWriteBuffer({
  columnData: [
    { name: 'occurrenceID', data: data('occurrenceID'), type: 'STRING', encoding: 'DELTA_BYTE_ARRAY' },
    { name: 'eventDate', data: data('eventDate'), type: 'STRING', encoding: 'DELTA_LENGTH_BYTE_ARRAY' },
    { name: 'management_status', data: data('management_status'), type: 'STRING' },
    { name: 'patch_area_m2', data: data('patch_area_m2'), type: 'DOUBLE', encoding: 'BYTE_STREAM_SPLIT' },
    { name: 'canopy_cover_percent', data: data('canopy_cover_percent'), type: 'INT32', encoding: 'DELTA_BINARY_PACKED' },
    { name: 'recordedBy', data: data('recordedBy'), type: 'STRING' },
    { name: 'parcel', data: data('parcel'), type: 'STRING' },
    { name: 'geom', data: points.map((f) => f.geometry), type: 'GEOMETRY' }
  ],
  rowGroupSize: 6,
  codec: 'GZIP',
  compressors: { GZIP: (b) => new Uint8Array(gzipSync(b)) }
})))
writeFileSync(out + 'half.parquet', Buffer.from(script.parquetWriteBuffer({
  columnData: [
    { name: 'half', data: [1.5, -0.00006103515625, 65504] },
    { name: 'uuid', data: ['f81d4fae-7dec-11d0-a765-00a0c91e6bf6', '00000000-0000-0000-0000-000000000000', 'ffffffff-ffff-ffff-ffff-ffffffffffff'] },
    { name: 'money', data: [1.25, -0.05, 1234.5] },
    { name: 'flag', data: [true, false, true], encoding: 'RLE' }
  ],
  schema: [
    { name: 'root', num_children: 4 },
    { name: 'half', type: 'FIXED_LEN_BYTE_ARRAY', type_length: 2, logical_type: { type: 'FLOAT16' }, repetition_type: 'REQUIRED' },
    { name: 'uuid', type: 'FIXED_LEN_BYTE_ARRAY', type_length: 16, logical_type: { type: 'UUID' }, repetition_type: 'REQUIRED' },
    { name: 'money', type: 'FIXED_LEN_BYTE_ARRAY', type_length: 5, converted_type: 'DECIMAL', scale: 2, precision: 10, repetition_type: 'REQUIRED' },
    { name: 'flag', type: 'BOOLEAN', repetition_type: 'REQUIRED' }
  ]
})))
// small files that expand a lot: runs of one row, and pages compressed a thousand times
const same = (n, v) => new Float64Array(n).fill(v)
fromRust('rows.parquet', { decimalLongitude: arrow.vectorFromArray(same(3_000_000, 1)) }, null)
fromRust('packed.parquet', { decimalLongitude: arrow.vectorFromArray(same(3_000_000, 1)) }, null,
  (b) => b.setDictionaryEnabled(false).setCompression(Compression.ZSTD).setMaxRowGroupSize(3_000_000).setDataPageSizeLimit(30_000_000).setWriteBatchSize(3_000_000))
