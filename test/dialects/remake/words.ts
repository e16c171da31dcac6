import type { Rng } from '../rng.ts';

/** concept: plain English / short English / French / Italian / Dutch. Words of the trade and plain words. */
const TABLE = `
root: installation|site record|gatehouse|stored state|keeper file / inst|strec|ghs / installation|etat du site / impianto|stato salvato / installatie|opgeslagen stand
roles: zones|nets|sides|legs|lan list / zn|ntl|sds / reseaux|zones reseau / reti|zone / netten|zijden
role: zone|net|side|leg|lan / zn|nt|sd / reseau|zone reseau / rete|zona / net|zijde
vlans: virtual lans|sub links|vlan table|channels / vl|subl|chs / liens virtuels|etiquettes vlan / vlan|canali / virtuele lijnen|kanalen
vlan: virtual lan|sub link|vlan entry|channel / v|sub|ch / lien virtuel|etiquette vlan / vlan singola|canale / virtuele lijn|kanaal
aggs: bonds|teams of ports|joined links / bnds|jl / agregats|liens joints / aggregazioni|fasci / bundels|koppelingen
agg: bond|port team|joined link / bnd|jlk / agregat|lien joint / aggregazione|fascio / bundel|koppeling
sets: named addresses|endpoints|host objects|address book / nadr|ends|hobj / carnet adresses|hotes nommes / rubrica|elenco host / adresboek|hostlijst
set: named address|endpoint|host object|entry / na|ep|ho / adresse nommee|hote / indirizzo|voce host / adres|hostgroep
svcs: port book|applications|protocols list|named services / pbk|apps|psv / services nommes|carnet ports / servizi|gruppi porte / diensten|poortlijst
svc: application|port entry|named service / app|pe|ns / service nomme|groupe ports / servizio|gruppo porte / dienst|poortgroep
scheds: timetables|opening hours|plans / tts|ohs / horaires|plages / orari|fasce / roosters|tijden
sched: timetable|opening|plan / tt|oh / horaire|plage / orario|fascia / rooster|tijd
rules: filters|decisions|permissions|access list|passage / flt|dcs|acl / regles|filtrage / regole|filtri / regels|filters
rule: filter|decision|permission|line|ace / f|dc|ac / regle|filtre / regola|filtro / regel|filter
nats: redirects|inbound maps|published services / rdr|inb|pbs / redirections|renvois / reindirizzamenti|inoltri / doorverwijzingen|omleidingen
nat: redirect|inbound map|published service / rd|im|pb / redirection|renvoi / reindirizzamento|inoltro / doorverwijzing|omleiding
pools: lease scopes|dhcp scopes|handouts / lsc|dsc|hnd / baux|plages dhcp / concessioni|ambiti dhcp / uitgifte|dhcp bereiken
pool: lease scope|dhcp scope|handout / ls|ds|ho / bail|plage dhcp / concessione|ambito dhcp / uitgiftebereik|dhcp bereik
leases: pinned|static leases|known hosts / pnd|stl / baux fixes|hotes connus / assegnati|fissi / vast|bekend
lease: pin|static lease|known host / pn|sl / bail fixe|hote connu / assegnazione|fisso / vaste uitgifte|bekende
gws: exits|routers|way outs / exs|rtrs / passerelles|sorties / uscite|gateway elenco / uitgangen|poorten buiten
gw: exit|router|way out / ex|rtr / passerelle|sortie / uscita|porta verso / uitgang|poort buiten
routes: paths|static paths|ip routes / pts|spt / chemins|routes fixes / percorsi|rotte / paden|vaste paden
route: path entry|static path|ip route / pt|sp / chemin|route fixe / percorso|rotta / pad|vast pad
cas: trusted signers|root certs|issuers / tsg|rct / autorites|racines / autorita|radici / uitgevers|wortels
ca: trusted signer|root cert|issuer / ts|rc / autorite|racine / autorita singola|radice / uitgever|wortel
certs: tls pairs|own certs|key store / tlp|ocr|kst / certificats|paires tls / certificati|coppie tls / certificaten|sleutelbos
cert: tls pair|own cert|keyed cert / tp|oc|kc / certificat|paire tls / certificato|coppia tls / certificaat|sleutelpaar
users: logins|people|admins / lgs|ppl|adm / utilisateurs|comptes / utenti|persone / gebruikers|mensen
user: login|person|admin / lg|pp|ad / utilisateur|compte / utente|persona / gebruiker|mens
groups: crews|user sets|duty lists / crs|uss / equipes|groupes / squadre|gruppi / ploegen|groepen
group: crew|user set|duty list / cr|us / equipe|groupe / squadra|gruppo / ploeg|groep
vpns: dial ins|remote gates|vpn list / dls|rgs / acces distants|vpn serveurs / accessi remoti|vpn elenco / inbellers|vpn toegangen
vpn: dial in|remote gate|vpn / dl|rg / acces distant|vpn serveur / accesso remoto|vpn singola / inbeller|vpn toegang
radius: wifi login|aaa|radius service / wlg|aaa / connexion wifi|service radius / accesso wifi|servizio radius / wifi aanmelding|radius dienst
ap: nas|radio unit|antenna / nas|ru / borne|point radio / antenna|punto radio / zender|radiopunt
sensor: packet watch|inspector|alarm engine / pkw|isp / surveillance|inspecteur / sorveglianza|ispettore / bewaking|inspecteur
tunables: sysctls|kernel values|loader values / sct|kvs / valeurs noyau|sysctls / valori kernel|sysctls / kernelwaarden|sysctl
tunable: knob|kernel value|loader value / kn|kv / valeur noyau|reglage / valore kernel|manopola / kernelwaarde|knop
saved: written|revision|stamp / wrt|rvs / derniere ecriture|revision / ultima scrittura|revisione / laatst bewaard|revisie
graph: chart data|history blob|statistics / cht|hst / courbes|historique / grafici|storico / grafieken|geschiedenis
general: system|identity of box|about / sys|abt / systeme|identite / sistema|identita / systeem|over
console: serial port|serial line|tty / ser|tty / port serie|console serie / porta seriale|console seriale / seriele poort|seriele console
admin: web page|gui|operator page / web|gui / page web|interface admin / pagina web|interfaccia / webpagina|beheer
g1: lower half|plumbing|wires / lo|plb / bas|cablage / basso|cavi / onder|bekabeling
g2: upper half|guard|doors / up|grd / haut|garde / alto|guardia / boven|wacht
g3: extras|helpers / xt|hlp / divers|aides / extra|aiuti / overig|hulp
name: name|called|key|nick|tag name|code / nm|cd|k / nom|code / nome|codice / naam|code
id: id|uid|guid|serial no|ref id / id|uid|no / identifiant|numero / identificativo|numero / kenmerk|nummer
label: descr|text|remark|about|caption / dsc|txt|rmk / libelle|remarque / descrizione|nota / omschrijving|opmerking
port: interface|wire|socket|link|connected to / ifc|wr|lnk / carte|prise / scheda|presa / kaart|aansluiting
on: on|in use|up|live / on|up / actif|en service / attivo|in uso / aan|actief
address: ip|own ip|addr|inet / ip|ad / ip|adresse / ip|indirizzo / ip|adres
prefix: bits|mask|cidr len / bt|mk / masque|longueur / maschera|lunghezza / masker|lengte
mtu: mtu|max size / mtu|mxs / mtu|taille max / mtu|dimensione max / mtu|max grootte
mac: ether|mac addr|station / eth|mca / mac|adresse mac / mac|indirizzo mac / mac|mac adres
parent: on|lower|trunk|over / lw|tr / support|tronc / supporto|tronco / over|stam
tag: vid|number|vlan no|q tag / vid|no / numero vlan|vid / numero vlan|vid / vlan nummer|vid
device: dev|full name|makes|as / dv|fn / nom complet|peripherique / nome completo|dispositivo / volle naam|toestel
ports: slaves|ports|bound ports / sl|pts / ports lies|membres ports / porte legate|porte membri / poorten|gebonden
entries: list|values|holds|items / ls|vls / contenu|valeurs / contenuto|valori / inhoud|waarden
hours: between|from to|when open / btw|ft / entre|heures / tra|ore / tussen|uren
action: do|effect|result|then / do|ef / effet|decision / effetto|esito / effect|besluit
proto: l4|ip proto|transport / l4|tp / transport|proto ip / trasporto|proto ip / transport|ip proto
source: src|who|origin|sender / sr|og / origine|emetteur / origine|mittente / bron|afzender
dest: dst|towards|receiver|where to / ds|tw / cible|vers / destinatario|verso / doel|naar
dport: dst port|on port|app|what / dp|op / port cible|quoi / porta dest|cosa / doelpoort|wat
when: during|hours|only at / dr|hr / pendant|seulement / durante|solo / tijdens|alleen
role: zone|in|enters at|net|iface / zn|in / zone|entree / zona|ingresso / zijde|ingang
outside: ext port|front port|port seen / xp|fp / port externe|port vu / porta esterna|porta vista / buitenpoort|voorpoort
inside: to host|behind|real host / th|bh / hote reel|derriere / host reale|dietro / echte host|achter
rule: filter ref|with filter|permits by / fr|wf / filtre lie|par regle / filtro legato|per regola / filter ref|via regel
first: from|low|begin / fr|lo / debut|premier / inizio|primo / begin|eerste
last: until|high|end / un|hi / fin|dernier / fine|ultimo / eind|laatste
ip: ip addr|fixed|at / ia|fx / ip fixe|adresse ip / ip fisso|indirizzo ip / vast ip|ip adres
host: dns name|computer|host / dn|cm / nom dns|machine / nome dns|macchina / dns naam|machine
network: dest|target net|prefix to / ds|tn / vers reseau|destination / verso rete|destinazione / doelnet|bestemming
gw: via|through|exit / vi|th / par|via / tramite|via / via|langs
pem: crt|pem|cert text / crt|pem / texte cert|pem / testo cert|pem / cert tekst|pem
key: private key|secret key|key pem / prk|kpm / cle privee|cle pem / chiave privata|chiave pem / prive sleutel|sleutel pem
issuer: signed by|parent ca|root / sb|pc / signe par|emetteur / firmato da|emittente / getekend door|uitgegeven door
hash: password|pw hash|crypt / pw|pwh / mot de passe|empreinte / password|impronta / wachtwoord|hash
anchor: trusts|client ca|verify with / tr|cc / confiance|verifie par / fiducia|verifica con / vertrouwt|controle met
cert: own cert|presents|tls / ow|pr / certificat|presente / certificato|presenta / certificaat|toont
inner: inside net|hands out|pool net / in|ho / reseau interne|distribue / rete interna|distribuisce / binnennet|deelt uit
group: for|crew|may enter / fo|me / pour|equipe / per|squadra / voor|ploeg
roles: listens in|zones|nets / li|zs / ecoute|zones / ascolta|zone / luistert|zijden
quiet: muted|ignore ids|hushed / mt|ig / muets|ignore / muti|ignora / stil|negeer
families: classes|rule sets|topics / cl|rs / classes|familles / classi|famiglie / klassen|families
shared: secret|radius key|shared pass / sec|rky / secret partage|mot secret / segreto|chiave condivisa / gedeeld geheim|geheim
value: val|amount|is / vl|am / valeur|vaut / valore|vale / waarde|is
at: date|stamp|epoch / dt|st / date|instant / data|istante / datum|moment
by: who|editor|hand / wh|ed / qui|auteur / chi|autore / wie|auteur
resolver: dns|dns server / dns|ns / dns|serveur noms / dns|server nomi / dns|naamserver
page: tls cert|page cert|presents / tc|pc / cert page|certificat tls / cert pagina|certificato tls / pagina cert|tls certificaat
listen: port no|tcp port|on tcp / pn|tp / port tcp|ecoute / porta tcp|ascolto / tcp poort|luisterpoort
life: key days|min pass len|renew days / kd|ml / jours cle|longueur min / giorni chiave|lunghezza min / sleuteldagen|min lengte
domain: search domain|dns suffix|realm / sd|sx / domaine|suffixe / dominio|suffisso / domein|achtervoegsel
zone: clock zone|tz|locale / tz|lz / fuseau|fuseau horaire / fuso|fuso orario / tijdzone|klokzone
speed: bps|line speed|bit rate / bps|lsp / debit|vitesse / velocita|bit al secondo / snelheid|bits
member: people|logins|who / pp|lg / membres|qui / membri|chi / leden|wie
poolRef: scope|of scope / sc|os / plage|bail parent / ambito|della concessione / bereik|van bereik
graphText: blob|data / bl|dt / donnees|bloc / dati|blocco / gegevens|blok
`;

const CELLS = new Map(
  TABLE.trim()
    .split('\n')
    .map((line) => {
      const [concept, rest] = line.split(': ') as [string, string];
      return [concept, rest.split(' / ').map((cell) => cell.trim().split('|'))] as const;
    }),
);
const VOCABULARIES = ['plain', 'plain', 'plain', 'short', 'french', 'italian', 'dutch', 'opaque', 'numbered'] as const;
type Vocabulary = (typeof VOCABULARIES)[number];
const COLUMN: Partial<Record<Vocabulary, number>> = { plain: 0, short: 1, french: 2, italian: 3, dutch: 4 };
const CASES = ['kebab', 'snake', 'camel', 'pascal', 'lower', 'upper', 'dotted', 'train'] as const;
type Case = (typeof CASES)[number];
const SYLLABLES = 'ba bre chi dol ek fa gru hem ist jo kel lum mar nof os pra qui ro sep tan uv wim xa yor zed'.split(
  ' ',
);

export function syllables(rng: Rng, least: number, most: number): string {
  return Array.from({ length: rng.int(least, most) }, () => rng.pick(SYLLABLES)).join('');
}

/** Names for elements, attributes and columns of one file, drawn once for each concept. */
export class Names {
  readonly vocabulary: Vocabulary;
  readonly letterCase: Case;
  /** Whether a field is called alike in all kinds of record. */
  readonly shared: boolean;
  private readonly drawn = new Map<string, string>();
  private readonly taken = new Map<string, Set<string>>();

  constructor(private readonly rng: Rng) {
    this.vocabulary = rng.pick(VOCABULARIES);
    this.letterCase = rng.pick(CASES);
    this.shared = rng.chance(0.7);
  }

  /** Whether words tell people what a secret or a console is. */
  get speaks(): boolean {
    return this.vocabulary in COLUMN && this.vocabulary !== 'short';
  }

  /** The name of a concept within a kind of record ('' for elements that hold records). No name is used twice in one kind. */
  of(concept: string, kind = ''): string {
    const scope = kind === '' ? '' : this.shared ? 'fields' : kind;
    const key = `${scope}/${concept}`;
    const known = this.drawn.get(key);
    if (known !== undefined) return known;
    const taken = this.taken.get(scope) ?? new Set();
    this.taken.set(scope, taken);
    const rng = this.rng.fork(key);
    let name = this.draw(rng, concept);
    for (let i = 2; taken.has(name.toLowerCase()); i++) name = this.draw(rng, concept) + (i > 6 ? String(i) : '');
    taken.add(name.toLowerCase());
    this.drawn.set(key, name);
    return name;
  }

  private draw(rng: Rng, concept: string): string {
    if (this.vocabulary === 'numbered') return this.dress([rng.pick(['x', 'n', 'e', 'el', 'f']) + rng.int(1, 999)]);
    const column = COLUMN[this.vocabulary];
    if (column === undefined) return this.dress(Array.from({ length: rng.int(1, 2) }, () => syllables(rng, 1, 3)));
    const words = rng.pick(CELLS.get(concept)?.[column] ?? [concept]);
    return this.dress(words.split(' '));
  }

  private dress(words: string[]): string {
    const title = (word: string) => word.charAt(0).toUpperCase() + word.slice(1);
    switch (this.letterCase) {
      case 'kebab':
        return words.join('-');
      case 'snake':
        return words.join('_');
      case 'camel':
        return words.map((word, i) => (i === 0 ? word : title(word))).join('');
      case 'pascal':
        return words.map(title).join('');
      case 'lower':
        return words.join('');
      case 'upper':
        return words.join('_').toUpperCase();
      case 'dotted':
        return words.join('.');
      case 'train':
        return words.map(title).join('-');
    }
  }
}
