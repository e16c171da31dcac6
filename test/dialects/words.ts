import type { Rng } from './rng.ts';

const LANGUAGES = ['en', 'abbr', 'de', 'es', 'tr', 'el', 'ru', 'cjk'] as const;
export type Language = (typeof LANGUAGES)[number] | 'opaque' | 'letters';
export type LetterCase = 'kebab' | 'snake' | 'camel' | 'pascal' | 'lower' | 'upper' | 'dotted' | 'upper-snake';

/**
 * concept: English synonyms / abbreviations / German / Spanish / transliterated / Greek / Cyrillic / Chinese or Japanese.
 * Words of the trade and plain words only; none is taken from a product's file.
 */
const TABLE = `
root: box backup|unit state|saved settings|site file|appliance dump|router state|snapshot|machine book / bak|cfgfile|dump|snap / geraetesicherung|stand|anlagendatei / copia de equipo|respaldo|archivo / hozon|nastroyki|rezerv / αντίγραφο|ρυθμίσεις / резерв|настройки / 备份|設定一式
sec.base: base|platform|machine|about this box|core / sys|plt|gen / grundlagen|geraet / basico|maquina / kihon|sistema / βάση|σύστημα / основа|система / 基本|系统
sec.net: network|wiring|connectivity|layer two and three / nw|lnk|conn / netz|verkabelung / redes|conexiones / tsushin|set / δίκτυο / сеть|связь / 网络|通信
sec.policy: protection|traffic policy|what may pass|access control / prot|acl|pol / schutz|regelwerk / proteccion|control / seigyo|zashchita / προστασία / защита|доступ / 防护|制御
sec.svc: helpers|offered services|functions|facilities / svcs|fn|fac / dienste|aufgaben / servicios|funciones / kinou|sluzhby / υπηρεσίες / службы / 功能|服务
sec.trust: trust|identities|people and keys|credentials / cred|trst|idm / vertrauen|identitaeten / confianza|identidades / shinrai|doverie / εμπιστοσύνη / доверие / 信任|認証
port: physical port|socket|nic|device|jack / prt|sock|dev / anschluss|buchse|steckplatz / puerto fisico|toma|boca / poruto|razyom / υποδοχή|θύρα / разъём|гнездо / 端口|物理口
role: role|segment|logical network|area|side|attachment|network zone / rol|sgmt|seg|nwk / netzrolle|teilnetz|bereich / rol de red|tramo|ambito / yakuwari|uchastok / ρόλος|τμήμα / роль|участок / 网段|役割
vlan: vlan|tagged link|virtual link|subchannel|tagged device / vl|tlnk|vdev / vlan strecke|markierte strecke / enlace marcado|subenlace / kasou kaisen|podkanal / εικονική ζεύξη / подканал|метка сети / 虚拟链路|仮想回線
agg: aggregate|bundle|link bundle|bonded link|trunk group / agr|bndl|tg / buendel|verbund / grupo de enlaces|haz / tabane|puchok / δέσμη / пучок|связка / 聚合|束
set: address set|host list|endpoint group|named hosts / aset|hgrp|adrl / adressliste|rechnergruppe / lista de equipos|grupo de direcciones / adresu hyou|gruppa adresov / ομάδα κόμβων / группа адресов|список узлов / 地址组|宛先表
svc: service|port group|application|protocol set|named ports / srv|pgrp|appl / dienst|portgruppe / servicio|grupo de puertos / saabisu|gruppa portov / υπηρεσία|ομάδα θυρών / служба|группа портов / 服务组|サービス
sched: schedule|time window|calendar|hours plan|active period / sch|twin|cal / zeitplan|zeitfenster / horario|calendario / jikanhyou|raspisanie / ωράριο / расписание|окно времени / 时段|時間帯
rule: rule|policy line|permission|decision|traffic rule / rl|pln|perm / regel|vorschrift|freigabe / regla|permiso / kisoku|pravilo / κανόνας / правило / 规则|規則
nat: translation|port forward|address rewrite|published host|redirect / xlat|fwd|trn / umsetzung|weiterleitung / traduccion|redireccion / henkan|perenos / μετάφραση / перенос|преобразование / 转换|変換
pool: address pool|lease range|lease pool|hand-out range / pl|rng|apl / adressvorrat|leihbereich / reserva de direcciones|rango de prestamo / haraidashi|pul adresov / απόθεμα / пул адресов|запас / 地址池|配布範囲
lease: fixed lease|reservation|pinned host|known client / fxl|rsv|pin / feste zuweisung|reservierung / reserva fija|asignacion / kotei|zakreplenie / δέσμευση / закрепление|бронь / 固定租约|予約
gw: gateway|next hop|exit|uplink router|way out / gtw|nxh|ext / ausgang|naechster sprung|netzuebergang / pasarela|salida / deguchi|shlyuz / πύλη / шлюз|выход / 网关|出口
route: route|static route|path|destination entry / rt|srt|pth / strecke|wegeintrag / ruta|camino / keiro|marshrut / διαδρομή / маршрут|путь / 路由|経路
ca: authority|signing authority|trust anchor|issuer entry / auth|tanc|iss / aussteller|wurzelstelle / autoridad|emisor / ninshoukyoku|udostoveritel / αρχή / удостоверитель|центр / 签发机构|認証局
cert: certificate|identity|tls identity|key pair / crtf|tlsid|idn / zertifikat|ausweis / certificado|identidad / shoumeisho|sertifikat / πιστοποιητικό / сертификат|удостоверение / 证书|証明書
user: operator|account|user|staff member|person / usr|acct|opr / benutzer|konto|bediener / usuario|cuenta|operador / riyousha|uchyotka / χρήστης|λογαριασμός / пользователь|учётка / 用户|利用者
group: team|user group|crew|privilege group / ugrp|tm|crw / gruppe|mannschaft / equipo|grupo / nakama|brigada / ομάδα χρηστών / бригада|группа / 用户组|班
vpn: tunnel server|remote access|vpn server|dial-in|private tunnel / tsrv|rac|vps / tunnel|fernzugang|einwahl / tunel|acceso remoto / tonneru|tunnel / σήραγγα / туннель|удалённый доступ / 隧道|トンネル
client: tunnel client|site link|outgoing tunnel|branch link / tcli|slnk|otun / gegenstelle|standortkopplung / enlace de sede|tunel saliente / kyoten|filial / ζεύξη κλάδου / филиал|связь площадок / 分支链路|拠点接続
peer: peer|far end|key peer|remote key / pr|fend|kpr / partner|gegenseite / par remoto|extremo / aite|partnyor / ομότιμος / партнёр|собеседник / 对端|相手
radius: radius|network login|authentication service|wireless login / rds|nlog|aaa / anmeldedienst|netzanmeldung / autenticacion|acceso inalambrico / ninshou|vhod v set / είσοδος δικτύου / вход в сеть|проверка / 网络登录|認証サービス
ap: access point|login client|radio|asking device / apt|rcl|rad / funkzelle|zugangspunkt / punto de acceso|antena / kichikyoku|tochka / σημείο πρόσβασης / точка доступа|антенна / 接入点|基地局
sensor: traffic sensor|intrusion watch|inspection|wire watch / isen|twat|insp / waechter|verkehrssensor / vigilante|sensor de trafico / kanshi|datchik / αισθητήρας / датчик|наблюдатель / 监测|監視
ntp: time server|clock source|ntp source|time reference / tsv|clk|tref / zeitserver|uhrquelle / servidor de hora|reloj / jikoku|chasy / πηγή ώρας / сервер времени|часы / 时间源|時計
tunable: kernel setting|tunable|system variable|low-level knob|boot variable / kset|tun|svar / kernwert|stellgroesse / ajuste de nucleo|variable / chousei|parametr yadra / παράμετρος πυρήνα / параметр ядра|переменная / 内核参数|調整値
saved: last saved|last change|saved by|revision / lsav|rev|lchg / letzte aenderung|gespeichert / ultimo guardado|revision / saishuu|izmenenie / τελευταία αλλαγή / изменение|сохранено / 最近保存|更新
remark: logbook entry|diary line|handover remark|site remark / logb|dia|hrem / bucheintrag|vermerk / bitacora|apunte / nikki|zapis / ημερολόγιο / запись журнала|заметка / 日志|日誌
general: general|identity card|basics|box data / gnrl|bas|bx / allgemeines|stammdaten / generales|datos / zenpan|obshchee / γενικά / общее|сведения / 常规|全般
console: serial console|console|serial line|terminal line / con|sline|tty / konsole|serielle leitung / consola|linea serie / shiriaru|konsol / σειριακή κονσόλα / консоль|терминал / 控制台|コンソール
admin: management page|admin page|operator page|web management / mgm|adm|wpg / verwaltungsseite|bedienseite / pagina de gestion|panel / kanri gamen|stranica / σελίδα διαχείρισης / страница управления|панель / 管理页|管理画面
boot: boot|start-up|boot loader|early start / bt|stup|ldr / startvorgang|anlauf / arranque|inicio / kidou|zagruzka / εκκίνηση / загрузка|пуск / 启动|起動
dyn: dynamic name|name update|public name refresh / dynn|nupd|pnr / namensdienst|dynamischer name / nombre dinamico|actualizacion / doutekimei|imya uzla / δυναμικό όνομα / динамическое имя / 动态域名|動的名
mail: alert mail|notification|mail notice / amail|ntf|mln / benachrichtigung|meldepost / aviso|correo de alarma / tsuuchi|opoveshchenie / ειδοποίηση / оповещение / 告警邮件|通知
name: name|ident|called|handle|short name / nm|idt|hdl / bezeichnung|kurzname / nombre|apodo / namae|imya / όνομα / имя|название / 名称|名前
id: id|uid|record id|number|ref no|object id / id|rid|oid / kennung|nummer / id|identificador / bangou|nomer / αριθμός / номер|код / 编号|識別子
enabled: enabled|active|in use|on / en|act|on / aktiv|eingeschaltet / activo|habilitado / yuukou|vklyucheno / ενεργό / включено|активно / 启用|有効
disabled: disabled|switched off|paused|off / dis|off|psd / aus|abgeschaltet / desactivado|pausado / mukou|vyklyucheno / ανενεργό / выключено|пауза / 停用|無効
device: port|nic|device|socket|sits on|plugged into|wire / prt|dev|nc / anschluss|karte|geraet / puerto|toma|dispositivo / kairo|ustroystvo / θύρα|συσκευή / порт|устройство / 接口|装置
label: label|note|remark|title|comment|free text|memo|description / lbl|rmk|ttl|dsc / beschriftung|notiz|bemerkung / etiqueta|nota|comentario / memo|zametka / σημείωση|ετικέτα / примечание|подпись / 备注|説明
address: address|ipv4 address|own address|host address / adr|ip4|addr / adresse|eigene adresse / direccion|ip propia / adoresu|adres / διεύθυνση / адрес / 地址|アドレス
prefix: prefix|prefix length|mask bits|netmask length / pfx|plen|bits / praefix|maskenlaenge / prefijo|longitud / maskuchou|dlina maski / μήκος / префикс|длина / 前缀|長さ
mtu: mtu|frame limit|max frame / mtu|mfr / rahmengrenze|mtu / mtu|trama max / mtu|kadr / πλαίσιο / кадр / 帧长|最大長
mac: hardware address|mac|station address|ethernet address / mac|hwa|hwaddr / hardwareadresse|mac / direccion fisica|mac / butsuri adoresu|fizadres / φυσική διεύθυνση / физический адрес / 物理地址|物理アドレス
parent: parent|carrier|base port|rides on|lower port / par|car|lwr / traeger|unterlage / base|portador / dodai|nositel / φορέας / носитель|основа порта / 承载口|親
tag: tag|vlan id|vlan tag|q number / vid|tg|vtag / kennzahl|markierung / marca|numero vlan / tagu|metka / ετικέτα vlan / метка|номер сети / 标签号|タグ
devname: port name|device name|shows as|link name / dnm|pnm|lnm / geraetename|erscheint als / nombre de dispositivo|aparece como / souchimei|imya ustroystva / όνομα συσκευής / имя устройства / 设备名|装置名
members: members|member ports|built from|legs / mbr|mp|legs / mitglieder|adern / miembros|patas / kousei|chleny / μέλη / состав|жилы / 成员口|構成
entries: entries|content|holds|elements|consists of / ent|cnt|elm / eintraege|inhalt / entradas|contenido / nakami|soderzhimoe / περιεχόμενα / содержимое|записи / 条目|中身
span: hours|span|from to|clock times / hrs|spn|tm / stunden|spanne / horas|lapso / jikan|chasy raboty / ώρες / часы|промежуток / 时间|時刻
days: days|weekdays|on days / dys|wd / tage|wochentage / dias|dias activos / youbi|dni / ημέρες / дни / 星期|曜日
action: action|verdict|decision|then / act|vrd|thn / aktion|urteil / accion|veredicto / shochi|deystvie / ενέργεια / действие|решение / 动作|処置
proto: protocol|proto|transport / pro|trp|ipp / protokoll|transport / protocolo|transporte / purotokoru|protokol / πρωτόκολλο / протокол / 协议|プロトコル
source: source|from|origin|sender|coming from / src|frm|org / quelle|von|absender / origen|desde / hasshin|istochnik / πηγή|από / источник|откуда / 来源|送信元
dest: destination|to|target|receiver|going to / dst|to|tgt / ziel|nach|empfaenger / destino|hasta / atesaki|naznachenie / προορισμός|προς / назначение|куда / 目的|宛先
service: service|dest port|ports|application|what / sv|dp|app / dienst|zielport / servicio|puerto destino / youto|usluga / υπηρεσία προορισμού / услуга|порт назначения / 目的服务|用途
when: when|only during|schedule|in force / whn|dur|sc / wann|gueltig / cuando|vigencia / itsu|kogda / πότε / когда|действует / 何时|適用時間
via: segment|role|via|arrives on|at|network|on network / on|seg|ntw / an|netz|rolle / via|en red|ambito / doko|na seti / σε δίκτυο / через|на сети / 所在网段|所属
gatewayNamed: gateway|use gateway|next hop|leave through / gw|nh|lv / ueber|ausgang / por|pasarela / keiyu|cherez shlyuz / μέσω πύλης / через шлюз / 经由|経由
log: log|record hits|keep trace / lg|trc / protokollieren|mitschreiben / registrar|anotar / kiroku|zhurnal / καταγραφή / журнал / 记录|記録
outport: outside port|public port|seen port / oprt|pubp|xp / aussenport|sichtbar / puerto externo|puerto publico / soto|vneshniy port / εξωτερική θύρα / внешний порт / 外部端口|外側番号
inside: inside host|target|lands at|inner address / ihost|tga|inr / innen|zielrechner / equipo interno|interior / uchi|vnutri / εσωτερικός κόμβος / внутренний узел / 内部主机|内側
inport: inside port|inner port|local port / ipt|lpt / innenport|lokaler port / puerto interno|puerto local / uchiban|vnutrenniy port / εσωτερική θύρα / внутренний порт / 内部端口|内側番号入
ruleref: linked rule|rule id|goes with rule / lrl|rlid / zugehoerige regel|regelnummer / regla ligada|id regla / kanren kisoku|svyaz / σχετικός κανόνας / связанное правило / 关联规则|関連規則
first: first|range start|lowest|begin / fst|lo|beg / erste|anfang / primera|inicio de rango / hajime|nachalo / πρώτη / первый|начало / 起始|開始
last: last|range end|highest|end / lst|hi|end / letzte|ende / ultima|fin de rango / owari|konec / τελευταία / последний|конец / 结束|終了
ip: ip|fixed ip|host ip|inner ip / ip|fip / ip adresse|feste ip / ip|ip fija / ip|ip adres / ip διεύθυνση / ip адрес / ip地址|ipアドレス
host: host name|host|client name|station / hst|hn / rechner|rechnername / equipo|nombre de equipo / hosuto|uzel / κόμβος / узел|имя узла / 主机名|ホスト
monitor: monitor|probe|watch address|ping target / mon|prb|wat / pruefziel|pruefadresse / sonda|vigilar / tenken|proba / έλεγχος / проба|проверять / 探测|点検
network: network|dest prefix|reaches|destination net / net|dpfx|rch / zielnetz|erreicht / red destino|alcanza / ikisaki|cel seti / δίκτυο προορισμού / сеть назначения / 目的网络|行先
chain: certificate|public part|pem|chain|public half / pem|pub|chn / zertifikatstext|oeffentlich / parte publica|cadena / koukai|otkrytaya chast / δημόσιο μέρος / открытая часть|цепочка / 公开部分|公開部
key: private key|private part|secret half|key / pkey|pvk|sk / privater schluessel|geheimteil / clave privada|parte secreta / himitsu kagi|zakrytyy klyuch / ιδιωτικό κλειδί / закрытый ключ / 私钥|秘密鍵
issuer: issued by|signed by|issuer|authority / iby|sgn|isr / ausgestellt von|unterzeichner / emitido por|firmado por / hakkou|vydan / εκδότης / выдан|подписан / 签发者|発行者
hash: password hash|secret hash|login hash|password / phash|pwh|pw / kennworthash|kennwort / clave cifrada|contrasena / angou|parol / κωδικός / пароль|хеш пароля / 密码|暗証
fullname: full name|real name|display name / fnm|dnam / voller name|anzeigename / nombre completo|nombre visible / shimei|polnoe imya / ονοματεπώνυμο / полное имя / 全名|氏名
tunnelnet: tunnel network|inner network|address range / tnet|inet / tunnelnetz|innennetz / red del tunel|red interna / naibumou|set tunnelya / δίκτυο σήραγγας / сеть туннеля / 隧道网|内部網
authorityNamed: trust anchor|accepts from|peer authority|authority / tan|acf|pau / vertraut|ausstellerwahl / confia en|autoridad / shinraisaki|doveryaet / εμπιστεύεται / доверяет / 信任机构|信頼先
certificateNamed: server certificate|identity|shown certificate|certificate / scrt|shc|idc / dienstzertifikat|ausweis / certificado|identidad / teiji|pokazyvaet / χρήση πιστοποιητικού / использует сертификат / 使用证书|使用証
groupref: allowed group|user group|for team|open to / agrp|ogr|fgr / erlaubte gruppe|fuer gruppe / grupo permitido|para equipo / kyoka|razresheno gruppe / επιτρεπτή ομάδα / разрешено / 允许组|許可班
userref: members|member|account|people / umb|mem|ac / mitglied|konten / integrantes|miembro / ichiin|uchastnik / μέλος / участник|люди / 组员|所属者
remote: remote address|far address|peer address|other side / rad|far|rem / gegenadresse|fernadresse / direccion remota|otro lado / aitesaki|udalyonnyy adres / απομακρυσμένη διεύθυνση / удалённый адрес / 远端地址|相手先
psk: preshared key|shared secret|tunnel secret|passphrase / psk|ss|tsec / gemeinsames geheimnis|vorab schluessel / clave compartida|secreto / kyouyuu kagi|obshchiy klyuch / κοινό κλειδί / общий ключ|тайна / 共享密钥|共有鍵
pubkey: public key|peer key|far key / pk|fky|pbk / oeffentlicher schluessel|gegenschluessel / clave publica|clave remota / koukai kagi|otkrytyy klyuch / δημόσιο κλειδί / открытый ключ / 公钥|公開鍵
allowed: allowed networks|inner prefixes|carries / anet|ipf|crr / erlaubte netze|traegt / redes permitidas|transporta / kyokamou|razreshyonnye seti / επιτρεπτά δίκτυα / разрешённые сети / 允许网络|許可網
secret: shared secret|passphrase|login secret / sec|pps|lsec / geheimnis|losung / secreto compartido|frase / aikotoba|sekret / μυστικό / секрет|фраза / 口令|合言葉
roles: segments|listens on|networks|served roles|watched / sgs|lon|nws / netze|hoert auf / redes|escucha en / taishoumou|seti / δίκτυα ακρόασης / сети|слушает / 监听网段|対象網
muted: muted|silenced|ignored ids|left out / mut|ign|sil / stumm|ausgelassen / silenciados|omitidos / jogai|zaglusheno / σιγή / заглушено / 忽略编号|除外
families: families|rule families|classes / fam|cls / klassen|familien / familias|clases / shurui|klassy / κλάσεις / классы / 类别|種類
time: time|at|saved at|stamp / ts|tim|stp / zeitpunkt|stempel / momento|sello / nichiji|vremya / χρόνος / время|отметка / 时刻戳|日時
by: by|author|who / by|ath|who / von wem|verfasser / por quien|autor / dareka|kem / ποιος / кем|автор / 操作人|担当
speed: speed|baud|line speed / spd|bd / tempo|baud / velocidad|baudios / sokudo|skorost / ταχύτητα / скорость / 速率|速度
flow: flow control|handshake / flc|hsk / flusskontrolle / control de flujo / ryuuryou|potok / έλεγχος ροής / управление потоком / 流控|流量制御
domain: domain|dns domain|domain name / dom|dnm / domaene / dominio / ryouiki|domen / τομέας / домен / 域|領域
zone: time zone|clock zone / tz|tzn / zeitzone / zona horaria / jikantai|chasovoy poyas / ζώνη ώρας / часовой пояс / 时区|時間帯区
resolver: resolver|name server|dns server / dns|res|nsv / namensserver|aufloeser / servidor de nombres|resolutor / kaiketsu|razreshatel / εξυπηρετητής ονομάτων / сервер имён / 域名服务器|名前解決
tlsport: listen port|https port|page port / lprt|htp / lauschport|seitenport / puerto de escucha|puerto web / machiuke|port stranicy / θύρα ακρόασης / порт страницы / 监听端口|待受番号
keylife: password min length|key lifetime|session minutes / pwml|klt|ses / kennwortlaenge|sitzungsdauer / longitud de clave|minutos / kigen|dlina parolya / διάρκεια / длина пароля / 密码长度|期限
serial: serial number|chassis number|unit number / sno|chs / seriennummer|gehaeusenummer / numero de serie|chasis / seizou bangou|zavodskoy nomer / σειριακός αριθμός / заводской номер / 序列号|製造番号
licence: licence key|activation code|entitlement / lic|acod / lizenzschluessel|freischaltung / licencia|codigo de activacion / raisensu|licenziya / άδεια / лицензия / 许可码|使用許諾
value: value|set to|setting|equals / val|v|st / wert|gesetzt auf / valor|puesto a / atai|znachenie / τιμή / значение / 值|値
mode: mode|kind of bundling|hashing / md|hsh / betriebsart|verteilung / modo|reparto / houshiki|rezhim / τρόπος / режим / 模式|方式
kind: kind|type|sort / knd|typ / art|sorte / tipo|clase / kubun|vid / είδος / вид|тип / 类型|種別
metric: metric|weight|priority|order / mtr|wgt|prio / gewicht|rang / peso|prioridad / omomi|ves / βάρος / вес|приоритет / 权重|重み
negsrc: source negated|invert source|not from / nsr|ivs / quelle umgekehrt|nicht von / origen negado / hasshin hitei|ne ot / άρνηση πηγής / кроме источника / 来源取反|送信元以外
negdst: destination negated|invert destination|not to / nds|ivd / ziel umgekehrt|nicht nach / destino negado / atesaki hitei|ne k / άρνηση προορισμού / кроме назначения / 目的取反|宛先以外
loader: loader delay|wait seconds|menu delay / ldl|mdl / wartezeit|menuepause / espera|retardo / machi|zaderzhka / καθυστέρηση / задержка / 延时|待ち
disk: boot disk|start medium|root device / bdk|rdv / startplatte|wurzelgeraet / disco de arranque / kidouban|zagruzochnyy disk / δίσκος / диск загрузки / 启动盘|起動盤
url: update address|service address|where / url|uad / dienstadresse|ziel url / url de servicio / koushinsaki|adres sluzhby / διεύθυνση υπηρεσίας / адрес службы / 服务网址|更新先
login: login|account name|user name / lgn|unam / anmeldename / usuario de acceso / nyuujou|login / είσοδος / вход / 登录名|入場名
smtphost: mail host|smarthost|relay / mhst|rly / postrechner|relais / servidor de correo / yuubin|pochtovyy uzel / ταχυδρομείο / почтовый узел / 邮件主机|中継
history: graph archive|history data|counter store / hist|ghx|cst / verlaufsdaten|zaehlerspeicher / historico|archivo de graficas / rireki|istoriya / ιστορικό / история / 历史数据|履歴
join: link|member of|pair / lk|mo / zuordnung / vinculo / kumi|svyazka / σύνδεση / привязка / 关联|組
bridge: bridge|switch group|joined ports / brg|swg / bruecke|schaltgruppe / puente / hashi|most / γέφυρα / мост / 网桥|ブリッジ
session: dial session|point link|session link / ses|plk / einwahlstrecke|sitzung / sesion|enlace punto / kaisen setsuzoku|sessiya / συνεδρία / сеанс / 拨号会话|接続回線
member: member port|leg|limb / mbp|lg / mitglied|ader / pata|integrante de haz / kousei in|chlen / μέλος δέσμης / жила / 成员|構成員
unit: unit|sublink|channel / unt|chn / untereinheit|kanal / subunidad|canal / tan i|kanal / υπομονάδα / канал / 单元|単位
seat: connection|plug|attachment point / cnx|plg / verbindung|stecker / conexion|enchufe / setsuzoku|vklyuchenie / σύνδεσμος / включение / 接入|接続
slot: slot|bay|card place / slt|bay / schacht|einschub / ranura|bahia / suroto|slot / σχισμή / слот / 槽位|スロット
position: position|socket number|place / pos|sno / platz|buchsennummer / posicion|numero de toma / ichi|pozitsiya / θέση / позиция / 位置|位
tagged: tagged ports|trunk ports|carried on / tgp|trk / markierte anschluesse|trunks / puertos marcados|troncales / tagu tsuki|s metkoy / με ετικέτα / с меткой / 带标签口|タグ付き
untagged: untagged ports|access ports|plain ports / utp|acc / freie anschluesse|offene anschluesse / puertos sin marca|de acceso / tagu nashi|bez metki / χωρίς ετικέτα / без метки / 无标签口|タグなし
over: over|runs over|lower device / ovr|lwd / laeuft ueber|unterbau / corre sobre|sobre / ue ni|poverh / πάνω από / поверх / 经过|下位
partof: part of|belongs to|bundle / pto|blg / teil von|gehoert zu / parte de|pertenece a / shozoku|chast / ανήκει / входит в / 属于|所属先
package: package|add-on|module|extra / pkg|mdl|xtr / paket|zusatz|erweiterung / paquete|complemento / tsuika|dopolnenie / πακέτο / дополнение|пакет / 扩展包|追加
data: data|settings|body / dat|set / daten|werte / datos|ajustes / jouhou|dannye / δεδομένα / данные / 数据|情報
count: count|size|records / cnt|n / anzahl / cantidad / kensuu|chislo / πλήθος / число / 数量|件数
table: table|sheet|list / tbl|sht / tabelle|blatt / tabla|hoja / hyou|tablica / πίνακας / таблица|лист / 表|一覧表
row: row|line|entry / r|rw / zeile|satz / fila|registro / gyou|stroka / γραμμή / строка / 行|列行
col: col|field|cell / c|fd / spalte|feld / columna|campo / ran|pole / στήλη|πεδίο / поле|ячейка / 列|項目
object: object|thing|item|record / obj|itm|rec / objekt|ding / objeto|cosa / mono|obyekt / αντικείμενο / объект|предмет / 对象|物
prop: prop|p|pref|line|setting line / p|kv|ln / eigenschaft|eintrag / propiedad|linea / zokusei|svoystvo / ιδιότητα / свойство / 属性|プロパティ
item: item|entry|one|li / it|i|e / posten|stueck / articulo|uno / hitotsu|shtuka / στοιχείο / элемент|штука / 项|個
keyword: k|key|path|n / k|ky / schluessel|pfad / clave|ruta clave / kagi|klyuch / κλειδί / ключ / 键|キー
`;

const SUFFIX: Record<string, readonly string[]> = {
  en: ['s', ' list', ' table', ' set', ' entries', 's'],
  abbr: ['s', 'l', ' tbl', ' set', 's'],
  de: ['liste', ' tabelle', ' verzeichnis', ' sammlung'],
  es: [' lista', ' tabla', ' registro'],
  tr: [' ichiran', ' spisok', ' gun'],
  el: [' λίστα', ' πίνακας'],
  ru: [' список', ' таблица', ' перечень'],
  cjk: ['列表', '一覧', '集'],
  opaque: [''],
  letters: [''],
};

const CONCEPTS = new Map<string, Record<string, string[]>>();
for (const line of TABLE.trim().split('\n')) {
  const [concept, rest] = [line.slice(0, line.indexOf(':')), line.slice(line.indexOf(':') + 1)];
  const columns = rest.split('/').map((c) => c.split('|').map((w) => w.trim()));
  CONCEPTS.set(concept, Object.fromEntries(LANGUAGES.map((l, i) => [l, columns[i] ?? columns[0] ?? []])));
}

const LETTERS = 'abcdefghijklmnopqrstuvwxyz';
const OPAQUE_FIRST = 'abcdefghjkmnpqrstvwxyz';

/** The words of one dialect. A word, once drawn for a concept, stays; no two concepts share one. */
export class Words {
  private readonly drawn = new Map<string, string>();
  /** For each space of words: which concept a word stands for. */
  private readonly taken = new Map<string, Map<string, string>>();
  private readonly orders = new Map<string, string[]>();
  private readonly opaqueForm: number;

  constructor(
    private readonly rng: Rng,
    readonly items: Language,
    readonly fields: Language,
    readonly letterCase: LetterCase,
    readonly prefix: string,
  ) {
    this.opaqueForm = rng.fork('opaque form').int(0, 3);
  }

  /** A section, a record or any other structural element. */
  item(concept: string): string {
    return this.prefix + this.draw('item', concept, concept, this.items);
  }

  /** The element around the records of one kind. */
  container(concept: string): string {
    const suffix = this.rng.fork(`suffix ${concept}`).pick(SUFFIX[this.items] ?? ['s']);
    return this.prefix + this.draw('item', `${concept}+`, concept, this.items, suffix);
  }

  /** A field; `scope` is the kind of record that holds it. */
  field(concept: string, scope: string, prefixed = false): string {
    const inScope = this.fields === 'letters' ? `field ${scope}` : 'field';
    return (prefixed ? this.prefix : '') + this.draw(inScope, concept, concept, this.fields);
  }

  /** A word of the same concept that is this kind of record's own. */
  variant(concept: string, scope: string): string {
    if (this.fields === 'letters') return this.field(concept, scope);
    return this.draw(
      'field',
      `${concept}@${scope}`,
      concept,
      this.fields,
      '',
      this.rng.fork(`variant ${scope} ${concept}`).int(0, 3) % (CONCEPTS.get(concept)?.[this.fields]?.length ?? 1),
      true,
    );
  }

  /** A field made of several concepts, such as a key column "source role id". */
  compound(concepts: readonly string[], scope: string): string {
    if (this.fields === 'opaque' || this.fields === 'letters') return this.field(concepts.join('+'), scope);
    const raw = concepts.map((c) => this.raw(c, this.fields, 0)).join(' ');
    return this.cased(raw);
  }

  /** A name for one list item: singular where the language makes that easy. */
  private raw(concept: string, language: Language, attempt: number): string {
    // "x.one" is one item of x: its own word of the same concept where there is a second synonym, else a plain one.
    const entry = CONCEPTS.get(concept) ?? CONCEPTS.get(concept.replace(/\.one$/, ''));
    if (!entry) throw new Error(`no words for ${concept}`);
    const id = `${language} ${concept}`;
    const synonyms = this.orders.get(id) ?? this.rng.fork(`order ${concept}`).shuffle(entry[language] ?? []);
    this.orders.set(id, synonyms);
    const word = synonyms[attempt % synonyms.length] as string;
    const round = Math.floor(attempt / synonyms.length);
    return round === 0 ? word : `${word} ${round + 1}`;
  }

  private draw(
    space: string,
    key: string,
    concept: string,
    language: Language,
    suffix = '',
    skip = 0,
    shared = false,
  ): string {
    const id = `${space}:${key}`;
    const known = this.drawn.get(id);
    if (known !== undefined) return known;
    const taken = this.taken.get(space) ?? new Map<string, string>();
    this.taken.set(space, taken);
    let word = '';
    for (let attempt = 0; ; attempt++) {
      word =
        language === 'opaque' || language === 'letters'
          ? this.meaningless(language, id, attempt)
          : this.cased(this.raw(concept, language, attempt + skip) + suffix);
      const owner = taken.get(word);
      if (owner === undefined || (shared && owner === concept)) break;
    }
    taken.set(word, shared ? concept : key);
    this.drawn.set(id, word);
    return word;
  }

  private meaningless(language: Language, id: string, attempt: number): string {
    const rng = this.rng.fork(`${id} ${attempt}`);
    if (language === 'letters') {
      const one = rng.pick([...LETTERS, ...(attempt > 8 ? LETTERS.toUpperCase() : LETTERS)]);
      return attempt < 60 ? one : one + rng.pick([...LETTERS]);
    }
    switch (this.opaqueForm) {
      case 0:
        return `f${rng.int(1, 240)}`;
      case 1:
        return rng.text(2, OPAQUE_FIRST) + rng.int(0, 9);
      case 2:
        return rng.text(1, OPAQUE_FIRST).toUpperCase() + rng.text(3, '0123456789ABCDEF');
      default:
        return rng.text(rng.int(3, 5), 'bcdfghjklmnpqrstvwxz');
    }
  }

  cased(phrase: string): string {
    const parts = phrase.split(/[ -]+/).filter(Boolean);
    const low = parts.map((p) => p.toLowerCase());
    const cap = low.map((p) => p.charAt(0).toUpperCase() + p.slice(1));
    switch (this.letterCase) {
      case 'kebab':
        return low.join('-');
      case 'snake':
        return low.join('_');
      case 'dotted':
        return low.join('.');
      case 'camel':
        return (low[0] ?? '') + cap.slice(1).join('');
      case 'pascal':
        return cap.join('');
      case 'upper':
        return low.join('').toUpperCase();
      case 'upper-snake':
        return low.join('_').toUpperCase();
      case 'lower':
        return low.join('');
    }
  }
}
