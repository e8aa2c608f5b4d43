// What an editor makes of the JSON Schema of a spec, through a language server for
// YAML as editors run it: completion, hover, and what is wrong with a broken spec.
// Usage: node editor.mjs SERVER SCHEMA SPEC
import { spawn } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { pathToFileURL } from 'node:url'
import assert from 'node:assert/strict'

const [server, schema, spec] = process.argv.slice(2)
const child = spawn(process.execPath, [server, '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] })
const asked = new Map()
const diagnostics = new Map()
let heard = () => {}
let next = 1
let buffer = Buffer.alloc(0)

function send(message) {
  const body = JSON.stringify({ jsonrpc: '2.0', ...message })
  child.stdin.write(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`)
}

function ask(method, params) {
  const id = next++
  send({ id, method, params })
  return new Promise((done, fail) => asked.set(id, { done, fail }))
}

child.stdout.on('data', data => {
  buffer = Buffer.concat([buffer, data])
  for (;;) {
    const head = buffer.indexOf('\r\n\r\n')
    if (head < 0) return
    const length = Number(/Content-Length: (\d+)/.exec(buffer.subarray(0, head).toString())[1])
    if (buffer.length < head + 4 + length) return
    take(JSON.parse(buffer.subarray(head + 4, head + 4 + length).toString()))
    buffer = buffer.subarray(head + 4 + length)
  }
})

function take(message) {
  if (message.method === 'textDocument/publishDiagnostics') {
    diagnostics.set(message.params.uri, message.params.diagnostics)
    heard()
  } else if (message.method === 'workspace/configuration') {
    send({ id: message.id, result: message.params.items.map(item => settings[item.section] ?? {}) })
  } else if (message.method && message.id !== undefined) {
    send({ id: message.id, result: null })
  } else if (asked.has(message.id)) {
    const { done, fail } = asked.get(message.id)
    asked.delete(message.id)
    message.error ? fail(new Error(message.error.message)) : done(message.result)
  }
}

const settings = { yaml: { validate: true, hover: true, completion: true, schemas: { [pathToFileURL(schema).href]: '*.yaml' }, schemaStore: { enable: false } } }

// open shows a text to the server and waits for what it says is wrong with it.
async function open(uri, text) {
  send({ method: 'textDocument/didOpen', params: { textDocument: { uri, languageId: 'yaml', version: 1, text } } })
  const until = Date.now() + 60_000
  while (!diagnostics.has(uri)) {
    assert.ok(Date.now() < until, `no word about ${uri}`)
    await new Promise(done => { heard = done; setTimeout(done, 500) })
  }
  return diagnostics.get(uri)
}

// at is the place behind the first occurrence of a piece of text.
function at(text, piece) {
  const before = text.slice(0, text.indexOf(piece) + piece.length).split('\n')
  assert.ok(text.includes(piece), piece)
  return { line: before.length - 1, character: before.at(-1).length }
}

const timer = setTimeout(() => { console.error('no answer within three minutes'); process.exit(1) }, 180_000)
await ask('initialize', { processId: process.pid, rootUri: null, capabilities: { textDocument: { completion: { completionItem: { documentationFormat: ['markdown'] } }, hover: { contentFormat: ['markdown'] }, publishDiagnostics: {} }, workspace: { configuration: true, didChangeConfiguration: {} } } })
send({ method: 'initialized', params: {} })
send({ method: 'workspace/didChangeConfiguration', params: { settings } })

const text = readFileSync(spec, 'utf8')
const sound = await open('file:///editor/sound.yaml', text)
assert.deepEqual(sound.map(d => d.message), [], 'a sound spec has nothing wrong')

const place = at(text, '    displacement')
const hover = await ask('textDocument/hover', { textDocument: { uri: 'file:///editor/sound.yaml' }, position: { line: place.line, character: place.character - 3 } })
assert.match(JSON.stringify(hover?.contents ?? ''), /full displacement/, 'hover tells what a key is')

const unfinished = text.replace('    displacement', '    \n    displacement')
await open('file:///editor/unfinished.yaml', unfinished)
const gap = at(unfinished, '    displacement')
const keys = await ask('textDocument/completion', { textDocument: { uri: 'file:///editor/unfinished.yaml' }, position: { line: gap.line - 1, character: 4 } })
const labels = (keys.items ?? keys).map(item => item.label)
for (const key of ['min_speed', 'drain', 'to_ambient']) assert.ok(labels.includes(key), `a pump is offered ${key}: ${labels}`)
assert.ok(!labels.includes('bore'), 'a pump is offered no bore')

const broken = text.replace('kind: pump', 'kind: pmp').replace('displacement:', 'displacment:').replace('headroom: 1', 'headroom: one')
const wrong = await open('file:///editor/broken.yaml', broken)
const lines = new Set(wrong.map(d => d.range.start.line))
for (const piece of ['headroom: one', 'kind: pmp']) {
  const line = at(broken, piece).line
  assert.ok(lines.has(line), `${piece} on line ${line + 1} is told: ${wrong.map(d => `${d.range.start.line + 1}: ${d.message}`).join('; ')}`)
}
clearTimeout(timer)
console.log(`editor: ${labels.length} keys offered, hover and ${wrong.length} mistakes told`)
child.kill()
