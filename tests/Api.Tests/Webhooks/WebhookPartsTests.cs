using System.Net;
using System.Text;
using Washwear.Api.Webhooks;

namespace Washwear.Api.Tests.Webhooks;

/// <summary>Signatures and addresses, apart from the sending.</summary>
public sealed class WebhookPartsTests
{
    // printf 'msg_1.1700000000.{"a":1}' | openssl dgst -sha256 -hmac 0123456789abcdef0123456789abcdef -binary | base64
    [Fact]
    public void A_signature_is_that_of_a_general_tool() => Assert.Equal(
        "v1,rkwp5YuvdrMkcu0ZhuMsXoTg44mHAr1Q0+FFgFpXsjY=",
        WebhookSignature.Sign("whsec_MDEyMzQ1Njc4OWFiY2RlZjAxMjM0NTY3ODlhYmNkZWY=", "msg_1", 1_700_000_000, Encoding.UTF8.GetBytes("""{"a":1}""")));

    [Theory]
    [InlineData("127.0.0.1", true)]
    [InlineData("127.255.255.254", true)]
    [InlineData("0.0.0.0", true)]
    [InlineData("10.1.2.3", true)]
    [InlineData("100.64.0.1", true)]
    [InlineData("100.128.0.1", false)]
    [InlineData("169.254.169.254", true)]
    [InlineData("172.15.255.255", false)]
    [InlineData("172.16.0.1", true)]
    [InlineData("172.31.255.255", true)]
    [InlineData("172.32.0.1", false)]
    [InlineData("192.168.1.1", true)]
    [InlineData("192.169.0.1", false)]
    [InlineData("198.18.0.1", true)]
    [InlineData("224.0.0.1", true)]
    [InlineData("255.255.255.255", true)]
    [InlineData("8.8.8.8", false)]
    [InlineData("::", true)]
    [InlineData("::1", true)]
    [InlineData("::ffff:127.0.0.1", true)]
    [InlineData("::ffff:8.8.8.8", false)]
    [InlineData("64:ff9b::10.0.0.1", true)]
    [InlineData("64:ff9b::8.8.8.8", false)]
    [InlineData("2002:7f00:1::", true)]
    [InlineData("2002:808:808::", false)]
    [InlineData("fe80::1", true)]
    [InlineData("fc00::1", true)]
    [InlineData("fd12:3456::1", true)]
    [InlineData("ff02::1", true)]
    [InlineData("2001:db8::1", true)]
    [InlineData("2001:4860:4860::8888", false)]
    public void Addresses_that_are_not_of_the_public_internet_are_internal(string address, bool isInternal) =>
        Assert.Equal(isInternal, InternalAddresses.Contains(IPAddress.Parse(address)));
}
