// Package pairing decides whom a phone trusts and whom the service trusts.
//
// The first: phones give position and motion only to pages from a certificate
// they trust, so the service has its own local authority. OpenAuthority makes
// it once, limited by name constraints to private addresses and .local names,
// and signs a short-lived certificate for this machine at each start; LoadOwn
// takes people's own pair instead. The second: OpenKeys keeps one-time pairing
// codes, exchanged by Redeem for a token with a role, and Check tells what a
// token may do. QRText and QRPNG draw the address with its code.
//
// The package refuses to write a token in the clear, to take a code twice, and
// to go on with a file it cannot read: losing the authority silently would
// leave every phone distrusting the service without a reason.
package pairing
